import type {
  BackupRow,
  BenchView,
  CommissionView,
  Draft,
  DraftAnswer,
  OrderBookView,
  RackView,
  ShopState,
  WeeksView,
} from '../desk/views.ts'
import type { Reply } from '../desk/procedure.ts'
import { desk as untyped } from './client.ts'

/** What happened, and which dates moved because of it, as sentences. */
export interface Moved {
  readonly said: string
  readonly moved: readonly string[]
  /** Entry of the log that `undo` takes back; absent: nothing to undo. */
  readonly entryId?: number | null
}

export interface CommissionChanges {
  readonly customer?: CommissionView['customer']
  readonly neededBy?: string | null
  readonly neededWhy?: string
  readonly promisedFor?: string | null
  readonly notes?: string
  readonly priceMinor?: number | null
  readonly depositMinor?: number
  readonly depositHow?: string
  readonly weight?: number
}

type Call<Input, Output> = object extends Input
  ? (input?: Input) => Promise<Reply<Output>>
  : (input: Input) => Promise<Reply<Output>>

type Nothing = Readonly<Record<never, never>>

/** The procedures as the pages use them; goes when the client takes its types from the whole table. */
export interface DeskCalls {
  readonly shopState: Call<Nothing, ShopState>
  readonly orderBook: Call<Nothing, OrderBookView>
  readonly rack: Call<Nothing, RackView>
  readonly bench: Call<Nothing, BenchView>
  readonly commission: Call<{ id: string }, CommissionView>
  readonly weeksAhead: Call<{ weeks: number }, WeeksView>
  readonly draftLoad: Call<Nothing, Draft | null>
  readonly draftSave: Call<{ draft: Draft }, null>
  readonly draftDiscard: Call<Nothing, null>
  readonly draftQuote: Call<{ draft: Draft; odds: boolean }, DraftAnswer>
  readonly takeOrder: Call<
    { draft: Draft; standing: 'asked-about' | 'agreed'; promisedFor: string | null },
    { commissionId: string }
  >
  readonly stepStart: Call<{ stepId: string; makerId: string | null }, Moved>
  readonly stepPause: Call<{ stepId: string }, Moved>
  readonly stepDone: Call<{ stepId: string }, Moved>
  readonly stepStillTacky: Call<{ stepId: string; minutes: number }, Moved>
  readonly stepPin: Call<{ stepId: string; day: string | null }, Moved>
  readonly undo: Call<{ entryId: number }, Moved>
  readonly commissionAgree: Call<{ id: string; promisedFor: string | null }, Moved>
  readonly commissionChange: Call<{ id: string; changes: CommissionChanges }, Moved>
  readonly commissionHold: Call<{ id: string; until: string; why: string }, Moved>
  readonly commissionResume: Call<{ id: string }, Moved>
  readonly commissionCallOff: Call<{ id: string }, Moved>
  readonly commissionHandOver: Call<{ id: string }, Moved>
  readonly almanac: Call<Nothing, unknown>
  readonly almanacChangeFact: Call<{ key: string; input: string }, Moved>
  readonly almanacSave: Call<{ list: string; item: unknown }, Moved>
  readonly almanacRemove: Call<{ list: string; id: string }, Moved>
  readonly backups: Call<Nothing, readonly BackupRow[]>
  readonly backupNow: Call<Nothing, BackupRow>
  readonly openBackup: Call<{ file: string }, null>
}

export const desk = untyped as unknown as DeskCalls
