import type { Fact, Part } from '../../core/constructions/construction.ts'
import type { Problem } from '../../core/problems.ts'
import type { WoodNeeded } from '../lumber/wood-needed.ts'
import type { PriceView } from '../money/price-of-work.ts'
import type { OddsView } from '../planner/odds-view.ts'
import type { WaitLine } from '../steps/wait-line.ts'

/** What follows from a draft. Fields of problems are paths into the draft: `pieces.0.input.cellsAcross`. */
export interface DraftAnswer {
  readonly problems: readonly Problem[]
  readonly pieces: readonly DraftPieceAnswer[]
  /** Of all pieces that make sense; null: nothing is known. */
  readonly wood: WoodNeeded | null
  /** Null while no piece makes sense. */
  readonly price: PriceView | null
  /** What the wood has ahead of it; null while nothing can be planned. */
  readonly lumber: DraftLumber | null
  /** Empty while the draft is not complete enough to be planned. */
  readonly offers: readonly OfferView[]
}

export interface DraftLumber {
  /** "Lumber: Sat, Dec 5, then 7 days to rest"; null: it may be cut at once. */
  readonly text: string | null
  /** Names of woods that the boards on hand do not give. */
  readonly missing: readonly string[]
  /** Whether the boards on hand were looked at. */
  readonly counted: boolean
}

export interface DraftPieceAnswer {
  readonly title: string | null
  readonly geometry: readonly Fact[]
  readonly parts: readonly Part[]
  readonly warnings: readonly string[]
  readonly steps: readonly {
    readonly name: string
    readonly handsOnMinutes: number
    readonly whyMinutes: readonly string[]
    readonly waitAfter: WaitLine | null
    readonly plannedAt: number | null
  }[]
  readonly handsOnMinutes: number
  readonly lots: string | null
}

export interface OfferView {
  readonly kind: 'keeps-every-promise' | 'soonest' | 'with-more'
  /** What it takes: "In turn, hours as they are", "4 more of Clamps", "Wren stays an hour longer, 10 times". */
  readonly takes: string
  /** `by-itself`: taking the order does what it takes, such as hours in the almanac; `by-hand`: the maker has to see to that first. */
  readonly had: 'as-it-is' | 'by-itself' | 'by-hand'
  readonly doneAt: number
  readonly odds: OddsView | null
  /** The day to say: the first whole day by whose end it is done 4 in 5 times (doneAt's day without odds). */
  readonly dayToSay: string
  /** Chance 0..1 that it is done by the end of that day, which is stated when it is promised; null without odds. */
  readonly chance: number | null
  readonly safeDay: string | null
  readonly late: readonly {
    readonly commissionId: string
    readonly number: number
    readonly customer: string
    readonly lateMinutes: number
    readonly doneAt: number
  }[]
  /** Whether every other promise stays as likely as it was said to be; without odds: whether nobody is late by plan. */
  readonly keepsPromises: boolean
  /** Chances 0..1 of other promises that get less likely by it, those that lose most first. */
  readonly lessSure: readonly {
    readonly commissionId: string
    readonly number: number
    readonly customer: string
    readonly before: number
    readonly after: number
  }[]
  readonly why: readonly string[]
}
