import type { TypedHome } from '../../core/almanac/home.ts'
import type { Belonging, Customer, TakenWhere } from '../../core/book/book.ts'
import type { LumberSource } from '../../core/book/lumber.ts'
import type { SpecInput } from '../../core/constructions/construction.ts'

/** The order form as it is typed; everything is text until it is read. */
export interface Draft {
  readonly customer: {
    readonly name: string
    readonly reach: string
    readonly secondReach: string
    readonly address: string
    readonly allergies: string
    readonly childUnder3: Customer['childUnder3']
    readonly notes?: string | undefined
    /** Of a customer who is known; absent: a new one. */
    readonly id?: string | undefined
  }
  readonly takenWhere: TakenWhere
  readonly pieces: readonly DraftPiece[]
  readonly neededBy: string
  readonly neededWhy: string
  readonly notes: string
  readonly home: TypedHome
  readonly price: string
  readonly deposit: string
  readonly depositHow: string
  /** Id of the earlier order that this one belongs to, and how; absent: made again. */
  readonly again?: string | undefined
  readonly againAs?: Belonging['as'] | undefined
  /** Who gets it and where, if that is not the customer. */
  readonly giftFor?: string | undefined
  readonly giftAddress?: string | undefined
  /** Day to call back on, while it is an inquiry. */
  readonly remindOn?: string | undefined
  /** Where the wood comes from; absent: counted from the boards on hand. */
  readonly lumber?: TypedLumber | undefined
}

/** `expectedOn`: a day `2026-12-05`; empty: the next buying day. */
export interface TypedLumber {
  readonly from: LumberSource
  readonly expectedOn: string
}

export interface DraftPiece {
  readonly construction: string
  readonly input: SpecInput
  readonly count: string
  /** The piece of an agreed order that it changes; absent: a piece of its own. */
  readonly of?: string | undefined
}
