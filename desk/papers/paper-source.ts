import type { Commission } from '../../core/book/book.ts'
import type { MoneyEntry } from '../../core/money/ledger.ts'
import type { RemakeRecord } from '../../core/money/remake-reserve.ts'
import type { IssuedPaper } from '../../db/papers.ts'
import type { Moment } from '../moment.ts'

/** What papers of one order are written from. */
export interface PaperSource {
  readonly commission: Commission
  readonly moment: Moment
  readonly entries: readonly MoneyEntry[]
  readonly issued: readonly IssuedPaper[]
  /** The shop's own record of remakes, which prices go by. */
  readonly remakes: RemakeRecord
}
