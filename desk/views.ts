import type { Almanac } from '../core/almanac/almanac.ts'
import type { AlmanacFact } from '../core/almanac/fact.ts'
import type { TypedHome } from '../core/almanac/home.ts'
import type { Drawing } from '../core/constructions/drawing.ts'
import type { Fact, Fitting, Part, SpecInput, Units } from '../core/constructions/construction.ts'
import type { SupplyKind } from '../core/book/supplies.ts'
import type { Lumber, LumberSource } from '../core/book/lumber.ts'
import type { Belonging, Commission, Customer, ExtraLine, Standing, TakenWhere } from '../core/book/book.ts'
import type { PromiseMark } from '../core/book/chance.ts'
import type { OddsDays, PromiseRecord } from '../core/book/promise.ts'
import type { PieceState } from '../core/book/piece-state.ts'
import type { MoneyState } from '../core/money/ledger.ts'
import type { MoneyView } from './money/money-view.ts'
import type { PriceView } from './money/price-of-work.ts'
import type { Currency } from '../core/money/currency.ts'
import type { Interval, WaitKind } from '../core/planning/index.ts'
import type { Lacking } from '../db/backup-difference.ts'
import type { BackupReason } from '../db/backup-thinning.ts'
import type { Problem } from '../core/problems.ts'
import type { BoardInput } from '../core/timber/read-board.ts'
import type { HomeAir } from '../core/wood/seasons.ts'

export type { PieceState }

/**
 * What the screens are shown: plain JSON, derived from the book, the log and the plan at one moment. Instants are whole
 * minutes since the Unix epoch (names end in `At` or `Min`), durations are minutes (`...Minutes`), days `YYYY-MM-DD`.
 */
export interface ShopState {
  /** Milliseconds since the Unix epoch on the desk's clock; pages count on from there. */
  readonly nowMs: number
  /** True while tests hold the clock still. */
  readonly clockHeld: boolean
  readonly shopName: string
  readonly timeZone: string
  readonly units: Units
  readonly currency: Currency
  /** BCP 47 locale in which dates and numbers are written; always an English one, as the words are. */
  readonly locale: string
  readonly demo: boolean
  readonly makers: readonly { readonly id: string; readonly name: string }[]
  /** Why the data file could not be opened; then nothing works but opening a copy, trying again and beginning anew. */
  readonly trouble: {
    readonly problem: Problem
    /** The data folder. */
    readonly folder: string
    readonly backups: readonly BackupRow[]
  } | null
  /**
   * What is in the way and stays so until somebody mends it, each with what would do: a commission that cannot be
   * planned, a wait that stands still, a backup that could not be made. Screens work all the same.
   */
  readonly inTheWay: readonly Problem[]
  readonly betterDates: BetterDates
}

/** Whether better dates than the ones shown are looked for, or have been. */
export type BetterDates =
  /** `share` of the time or of the schedules that it may take, 0..1. */
  | { readonly kind: 'looking'; readonly share: number }
  /** 'best': proved that nothing better can be done; 'found': what is shown is the better plan. */
  | { readonly kind: 'nothing-to-look-for' | 'not-looked' | 'stopped' | 'found' | 'none-found' | 'best' }

export interface BackupRow {
  readonly file: string
  readonly atMs: number
  readonly bytes: number
  /** `set-aside`: it was the data file until another one took its place. */
  readonly reason: BackupReason | 'set-aside'
  /** Null: it cannot be read. */
  readonly commissions: number | null
}

/** Copies of the backups in a folder that the maker named, and the sticks and disks that are plugged in. */
export type CopiesElsewhereView =
  | { readonly folder: null; readonly otherPlaces: readonly string[] }
  | {
      readonly folder: string
      readonly isThere: boolean
      /** On the disk of the data folder: of use only when something syncs it elsewhere. */
      readonly isSameDisk: boolean
      /** When what was copied and verified last was written; null: nothing yet. */
      readonly lastGoodAtMs: number | null
      readonly isUpToDate: boolean
      readonly problems: readonly Problem[]
      readonly copies: readonly BackupRow[]
      readonly otherPlaces: readonly string[]
    }

/** What can be read of a damaged file, and what cannot, as lines; no lines: everything can. */
export interface RescueView {
  readonly orders: number
  readonly lost: readonly string[]
}

/** What the present book has that a copy lacks. */
export type CopyLacks = Lacking

/** How the piece is spoken of on every screen. */
export interface PieceLabel {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly pieceId: string
  readonly title: string
  readonly count: number
  /** "lot 1 of 2", or null when the batch is not split. */
  readonly lot: string | null
}

export interface RackView {
  /** Ready ones first, then by when they are ready. */
  readonly waiting: readonly RackRow[]
  readonly stations: readonly {
    readonly id: string
    readonly name: string
    readonly used: number
    readonly capacity: number
  }[]
}

export interface RackRow {
  readonly piece: PieceLabel
  readonly state: PieceState
  /** "glue in clamps", "second coat drying". */
  readonly waitName: string
  /** "Clamps 1-4", "Rack, place 3"; empty when it holds nothing. */
  readonly place: string
  readonly sinceAt: number
  /** When the wait is over; null: it stands still (too cold, too damp). */
  readonly readyAt: number | null
  /** For "why?": the reference wait, what slows it, the source. */
  readonly why: readonly string[]
  /** When it stands still between its beginning and its end: nights that are too cold. */
  readonly still: readonly Interval[]
  /** What cold or damp did to it while it was wet, and what to do; null: nothing. */
  readonly spoiled: string | null
  /** 'wait': too early; 'ready'; 'stands-still': too cold or damp at this moment, why, and when it goes on (null: never). */
  readonly advice:
    | { readonly kind: 'wait' }
    | { readonly kind: 'ready' }
    | { readonly kind: 'stands-still'; readonly reason: string; readonly goesOnAt: number | null }
  readonly next: { readonly stepId: string; readonly name: string; readonly plannedAt: number | null } | null
  /** When the recoat window (or another longest wait) closes, and what to do after that. */
  readonly window: { readonly closesAt: number; readonly remedy: string | null } | null
  /** Step after which it waits: what is carried elsewhere is carried in its name. */
  readonly afterStepId: string
  /** Place of the almanac in which it stands; null: the shop. */
  readonly standsIn: string | null
  /** Where it may be carried with one press, the soonest ready first; when it would be ready there, null: never. */
  readonly moves: readonly MoveOffered[]
  /** Step that "still tacky" pushes back; null when there is nothing to push. */
  readonly tackyStepId: string | null
}

/** A place where a waiting piece may be carried; `place` null: back into the shop. */
export interface MoveOffered {
  readonly place: string | null
  readonly name: string
  readonly readyAt: number | null
}

export interface BenchView {
  /** The session that runs now, or the next one. */
  readonly session: { readonly fromAt: number; readonly toAt: number; readonly runsNow: boolean } | null
  readonly onTheBench: readonly BenchStep[]
  /** What can be started now and fits what is left of the session, in the order of the list: see core/planning's bench-list. */
  readonly canStart: readonly BenchStep[]
  /** What the plan has for this session and the next that cannot be started yet, with when. */
  readonly comingUp: readonly BenchStep[]
  /** What must be started by when, so that the glue or finish works overnight. */
  readonly tonight: readonly TonightLine[]
  /** Orders whose wood should be here by now: the maker is asked. */
  readonly lumber: readonly LumberLine[]
  /** Why the first of `canStart` comes first, as sentences; empty where nothing can be started. */
  readonly whyFirst: readonly string[]
  /** Milling of today whose boards are still whole in stock. */
  readonly milled: readonly MilledStep[]
  /** Glue, finish and hardware that ran out and should be here by now. */
  readonly supplies: readonly SupplyDue[]
  readonly lastAction: UndoLine | null
}

/** Milling that is done, and whose boards are still on hand as far as anybody said. */
export interface MilledStep {
  readonly stepId: string
  readonly name: string
  readonly piece: PieceLabel
}

/** Boards that a step's parts may have come from, those of the cutting plan first. */
export interface MilledBoards {
  readonly stepId: string
  readonly boards: readonly {
    readonly id: string
    readonly number: number
    readonly wood: string
    readonly thicknessNm: number
    readonly widthNm: number
    readonly lengthNm: number
    /** That the plan cuts from it; 0: none. */
    readonly parts: number
    readonly offcuts: readonly { readonly lengthNm: number; readonly widthNm: number }[]
  }[]
  /** Parts that fit on none of them. */
  readonly missing: number
}

export interface SupplyDue {
  readonly id: string
  readonly name: string
  /** Local day. */
  readonly expectedOn: string | null
}

/** The wood of an order that cannot be cut yet. */
export interface LumberLine {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  /** "Lumber: Sat, Dec 5, then 7 days to rest". */
  readonly text: string
  /** Names of woods that the boards on hand do not give. */
  readonly missing: readonly string[]
  readonly state: 'coming' | 'resting' | 'unknown'
  /** Local day. */
  readonly expectedOn: string | null
  /** The day has come, or nobody knows one. */
  readonly due: boolean
}

export interface UndoLine {
  readonly entryId: number
  /** "Done: first glue-up of Checkerboard". */
  readonly text: string
  readonly atMs: number
}

export interface BenchStep {
  readonly stepId: string
  readonly piece: PieceLabel
  readonly name: string
  readonly note: string
  readonly state: 'can-start' | 'running' | 'paused' | 'not-yet'
  readonly handsOnMinutes: number
  /** How the minutes came about, as sentences. */
  readonly whyMinutes: readonly string[]
  /** Setup minutes included when it starts now; the family is shared with these other steps. */
  readonly setUpMinutes: number
  readonly sharesSetUpWith: readonly string[]
  readonly startedAt: number | null
  readonly workedMinutes: number
  readonly plannedAt: number | null
  readonly plannedEndAt: number | null
  /** The local day that the maker wants it on. */
  readonly pinnedDay: string | null
  /** The glue or finish that it puts on; null: none, or none of the almanac. */
  readonly putsOn: { readonly productId: string; readonly name: string } | null
  /** Why it cannot be started yet, or what to mind before starting: "Dust: Serving tray is tacky until 21:40". */
  readonly hindrance: string | null
  readonly makers: readonly string[]
  /** It was left in hand before the last night: since when, and when the work most likely ended; null: it was not. */
  readonly leftRunning: { readonly sinceAt: number; readonly likelyStopAt: number } | null
  readonly cautions: readonly { readonly id: string; readonly text: string }[]
  /** The promise of its order, and how sure it is; null: nothing is promised. */
  readonly promise: { readonly day: string; readonly outlook: Outlook } | null
}

export interface TonightLine {
  readonly stepId: string
  readonly piece: PieceLabel
  readonly name: string
  readonly latestStartAt: number
  /** What it costs when it is not started by then: "Checkerboard is then done Sat 12 Dec instead of Thu 10 Dec". */
  readonly otherwise: string
}

/** How a promise stands, by its chance; 'none' without a promise, 'unknown' while no chance is worked out. */
export type Danger = PromiseMark | 'unknown'

/** How sure an order's day is. Days are local, chances 0..1; null: not worked out, or nothing to work out. */
export interface Outlook {
  /** Days by whose end it is done 1 in 2, 4 in 5 and 19 in 20 times. */
  readonly days: OddsDays | null
  /** Chance of the promised day. */
  readonly chance: number | null
  /** The chance that was stated when the day was given. */
  readonly stated: number | null
  /** It has fallen by two tenths or more since. */
  readonly hasFallen: boolean
  readonly danger: Danger
  /** False: of the plan before, while newer ones are worked out. */
  readonly fresh: boolean
  /** The day on which all of it was finished. */
  readonly finishedOn: string | null
}

export interface OrderRow {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly titles: readonly string[]
  readonly standing: CommissionWord
  readonly neededBy: string | null
  readonly promisedFor: string | null
  /** By the plan, if all goes as planned. */
  readonly doneAt: number | null
  /** Minutes past the promise by the plan. */
  readonly lateMinutes: number
  readonly outlook: Outlook
  readonly stepsDone: number
  readonly stepsTotal: number
  readonly nextStep: string | null
  /** With tax and extras; null: no price yet. */
  readonly totalMinor: number | null
  readonly paidMinor: number
  readonly owedMinor: number
  readonly moneyState: MoneyState
  readonly lists: readonly OrderList[]
  /** Everything that was typed about it, for finding. */
  readonly text: string
}

/** What has to be done about an order beside the work on it. */
export type OrderList = 'to-call' | 'waiting-for-lumber' | 'to-pick-up' | 'owing'

export type CommissionWord =
  'asked-about' | 'agreed' | 'in-the-shop' | 'ready-to-collect' | 'handed-over' | 'on-hold' | 'called-off' | 'lost'

export interface OrderBookView {
  readonly open: readonly OrderRow[]
  /** The newest of them; `closedOrders` gives more. */
  readonly closed: readonly OrderRow[]
  readonly closedCount: number
}

export interface CommissionView {
  readonly id: string
  readonly number: number
  readonly customer: Customer
  readonly standing: Standing
  readonly word: CommissionWord
  readonly onHoldUntil: string | null
  readonly onHoldWhy: string
  readonly remindOn: string | null
  readonly toldOn: string | null
  readonly closedFrom: Commission['closedFrom']
  readonly closedWhy: string
  readonly giftFor: string
  readonly giftAddress: string
  /** The earlier order that it belongs to, then those that belong to it; none of orders that are gone. */
  readonly family: readonly RelatedOrder[]
  readonly takenAtMin: number
  readonly takenWhere: TakenWhere
  readonly neededBy: string | null
  readonly neededWhy: string
  readonly promisedFor: string | null
  readonly notes: string
  /** Climate at the customer’s, as said with the order; null: the almanac's home. */
  readonly home: HomeAir | null
  readonly priceMinor: number | null
  readonly untaxedWhy: string
  readonly extraLines: readonly ExtraLine[]
  readonly money: MoneyView
  readonly price: PriceView
  /** By the plan, if all goes as planned. */
  readonly doneAt: number | null
  readonly outlook: Outlook
  /** Null while they are not worked out, and where there is nothing to work out. */
  readonly odds: Odds | null
  /** Days given and quoted, newest first, with what was stated. */
  readonly promises: readonly PromiseRecord[]
  /** Why the chance has fallen since the promise, as sentences; empty where it has not. */
  readonly whyFallen: readonly string[]
  readonly pieces: readonly PieceView[]
  readonly wood: WoodNeeded
  readonly lumber: LumberLine | null
  /** What was said of it, whether it is open and something is still to be cut, and whether boards on hand were looked at. */
  readonly lumberSaid: Lumber
  readonly lumberTaken: boolean
  readonly lumberCounted: boolean
  readonly history: readonly HistoryLine[]
}

/** An order that belongs to another one, or that others belong to. */
export interface RelatedOrder {
  readonly commissionId: string
  readonly number: number
  /** How they belong together, seen from the order that is shown. */
  readonly how: 'makes-again' | 'repairs' | 'answers-for' | 'made-again-as' | 'repaired-as' | 'complaint'
}

export interface PieceView {
  readonly piece: PieceLabel
  readonly construction: string
  readonly constructionName: string
  readonly state: PieceState
  /** The day on which it left before the rest of its order. */
  readonly handedOverOn: string | null
  /** For asking again: the spec as the form shows it. */
  readonly input: SpecInput
  /** One piece to scale; null where nothing is known of its shape. */
  readonly drawing: Drawing | null
  /** When its parts were or will be joined, in whose season the wood is: sizes and drawing are for then. */
  readonly builtAt: number
  readonly geometry: readonly Fact[]
  readonly parts: readonly Part[]
  /** What is bought for it. */
  readonly fittings: readonly Fitting[]
  /** Names of the finishes that go on it, in their order. */
  readonly finishes: readonly string[]
  readonly warnings: readonly string[]
  readonly steps: readonly StepLine[]
  readonly doneAt: number | null
}

export interface StepLine {
  readonly stepId: string
  readonly name: string
  readonly note: string
  readonly lot: string | null
  readonly state: 'done' | 'running' | 'paused' | 'to-do'
  readonly handsOnMinutes: number
  readonly whyMinutes: readonly string[]
  readonly workedMinutes: number | null
  /** Stretches of work as they are logged; the one that goes on has no end. */
  readonly work: readonly { readonly fromAt: number; readonly toAt: number | null; readonly makerId: string | null }[]
  /** Of how many pieces it is. */
  readonly count: number
  /** Its result is lost: it failed, or is not wanted any more. */
  readonly lost: boolean
  /** Where its pieces can be made again from, should they fail: the steps before it and itself that were begun. */
  readonly againFrom: readonly { readonly stepId: string; readonly name: string }[]
  /** The local day that the maker wants it on. */
  readonly pinnedDay: string | null
  readonly startAt: number | null
  readonly endAt: number | null
  /** The longest wait that follows, if any. */
  readonly waitAfter: WaitLine | null
  readonly cautions: readonly { readonly id: string; readonly text: string }[]
}

export interface WaitLine {
  readonly kind: WaitKind
  readonly name: string
  /** At about 21 °C and 50 % humidity. */
  readonly minutes: number
  /** In this shop's air at the time when it was or will be; null where that is not known, or never over. */
  readonly hereMinutes: number | null
  /** Why it takes as long as it does here, as sentences. */
  readonly because: readonly string[]
  readonly rangeMinutes: readonly [number, number]
  /** How long the window stays open after the wait; null: it does not close. */
  readonly openForMinutes: number | null
  readonly source: string
}

export interface HistoryLine {
  readonly entryId: number
  readonly atMs: number
  readonly who: string | null
  readonly text: string
  readonly undone: boolean
  readonly canUndo: boolean
}

/** Instants by which it is done 1 in 2, 4 in 5 and 19 in 20 times. */
export interface Odds {
  readonly p50At: number
  readonly p80At: number
  readonly p95At: number
  readonly replications: number
}

export interface WeeksView {
  readonly fromAt: number
  readonly toAt: number
  /** When anybody works; everything else is night or closed. */
  readonly open: readonly Interval[]
  readonly specialDays: readonly {
    readonly day: string
    readonly kind: 'closed' | 'extra' | 'fair'
    readonly note: string
  }[]
  readonly lanes: readonly WeeksLane[]
}

export interface WeeksLane {
  readonly piece: PieceLabel
  readonly bars: readonly WeeksBar[]
  /** By the plan, if all goes as planned. */
  readonly doneAt: number | null
  readonly promisedFor: string | null
  readonly outlook: Outlook
}

export interface WeeksBar {
  readonly kind: 'hands-on' | 'wait'
  readonly state: PieceState
  readonly name: string
  readonly fromAt: number
  readonly toAt: number
  readonly done: boolean
  readonly stepId: string
}

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
  readonly offers: readonly Offer[]
}

/** What follows from a changed order, beside the order as it is. */
export interface ChangeAnswer extends DraftAnswer {
  /** Null while the draft has problems. */
  readonly change: ChangeView | null
}

export interface ChangeView {
  readonly before: ChangeSide
  readonly after: ChangeSide
  /** Whether steps, parts or pieces differ, not only what was agreed. */
  readonly changesWork: boolean
  /** Steps with work at pieces that change. */
  readonly work: readonly ChangedWork[]
  readonly countingMinutes: number
  readonly lostMinutes: number
  /** The rule by which work counts, as a sentence. */
  readonly rule: string
  readonly promisedFor: string | null
  /** What was stated with the promise. */
  readonly stated: number | null
  /** Others whose chance gets less. */
  readonly lessSure: Offer['lessSure']
}

/** An order before or after a change. */
export interface ChangeSide {
  readonly pieces: readonly string[]
  readonly stepsToDo: number
  readonly minutesToDo: number
  readonly wood: WoodNeeded
  readonly priceMinor: number | null
  /** What the almanac would ask for it. */
  readonly askedMinor: number
  /** By the plan; null: no date. */
  readonly doneAt: number | null
  /** Chance of the promised day; null: no promise, or not worked out yet. */
  readonly chance: number | null
  /** 4 chances in 5; null: not worked out yet. */
  readonly dayToSay: string | null
}

export interface ChangedWork {
  readonly stepId: string
  readonly name: string
  readonly piece: string
  readonly lot: string | null
  readonly minutes: number
  readonly counts: boolean
  /** Whether the maker may say that it counts, or does not. */
  readonly canSay: boolean
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

/** A construction as it is being written down; `id` is empty for a new one, `key` tells the drafts apart. */
export interface ConstructionDraft {
  readonly key: string
  readonly id: string
  readonly input: SpecInput
}

/** What one piece of a construction comes to, with nothing else on the bench. */
export interface ConstructionTrial {
  readonly problems: readonly Problem[]
  readonly piece: DraftPieceAnswer
  /** First step and end; null while it does not make sense, or cannot be planned. */
  readonly startAt: number | null
  readonly doneAt: number | null
}

export interface Offer {
  readonly kind: 'keeps-every-promise' | 'soonest' | 'with-more'
  /** What it takes: "In turn, hours as they are", "4 more of Clamps", "Wren stays an hour longer, 10 times". */
  readonly takes: string
  readonly doneAt: number
  readonly odds: Odds | null
  /** The day to say: the first whole day by whose end it is done 4 in 5 times (doneAt's day without odds). */
  readonly dayToSay: string
  readonly safeDay: string | null
  readonly meetsNeed: boolean | null
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

/** What an order that was only asked about would be quoted now. Chances 0..1; null: no date, `why` says what is in the way. */
export interface InquiryQuote {
  readonly day: string | null
  readonly chance: number | null
  /** Chance, now, of the day that was quoted then. */
  readonly chanceOfQuoted: number | null
  readonly why: string
}

/** What a press did; which chances moved because of it comes with the event `odds`. */
export interface Moved {
  readonly said: string
  /** Log entry that `undo` takes back; null: nothing to take back. */
  readonly entryId: number | null
}

export interface AlmanacView {
  readonly almanac: Almanac
  /** Every single figure with its value, default, unit and source, as texts in the maker's units. */
  readonly facts: readonly AlmanacFact[]
}

/** What to mill, what is on hand, which part comes from which board, what to buy. Sizes are in nanometres, as cut. */
export interface TimberView {
  /** What the plan does not count, and why. */
  readonly leftOut: readonly string[]
  readonly toMill: readonly MillGroup[]
  readonly boards: readonly BoardLine[]
  /** Boards on hand that are cut first, then those to buy. */
  readonly plan: readonly CutBoard[]
  readonly whyPlan: readonly string[]
  readonly missing: readonly string[]
  /** Orders whose wood is not here or still rests. */
  readonly waiting: readonly LumberLine[]
  readonly toBuy: ToBuy
}

/** Parts of one wood that come out of one rough thickness. */
export interface MillGroup {
  readonly wood: string
  /** `8/4`; null: thicker than the yard has. */
  readonly rough: string | null
  readonly pieces: number
  readonly boardFeet: number
  readonly cubicMetres: number
  readonly why: readonly string[]
  readonly lines: readonly MillLine[]
}

export interface MillLine {
  readonly id: string
  readonly name: string
  readonly note: string
  readonly quantity: number
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
  readonly piece: PieceLabel
  readonly begun: boolean
  readonly plannedAt: number | null
  readonly warnings: readonly string[]
  readonly why: readonly string[]
}

export interface BoardLine {
  readonly id: string
  readonly number: number
  readonly wood: string
  readonly thicknessNm: number
  readonly widthNm: number
  readonly lengthNm: number
  readonly boardFeet: number
  readonly flaws: readonly { readonly fromNm: number; readonly toNm: number }[]
  readonly quality: string
  readonly place: string
  readonly priceMinor: number | null
  /** Last reading, and what is wrong with it for gluing up now; null: not measured. */
  readonly moisture: { readonly pct: number; readonly day: string; readonly tooWet: string | null } | null
  /** Local day on which it may be cut; null: it may. */
  readonly restsUntil: string | null
  /** Number of the order that it was bought for. */
  readonly boughtFor: number | null
  /** Number of the board that it is an offcut of. */
  readonly cutFrom: number | null
  readonly photoId: string | null
  /** Numbers of the commissions that the plan cuts it for. */
  readonly cutFor: readonly number[]
  /** The form as it was typed, for changing it. */
  readonly input: BoardInput
}

/** A stretch of a board as drawn: `x` along the grain from the left end, `y` across from the lower edge. */
export interface BoardStretch {
  readonly x: number
  readonly y: number
  readonly lengthNm: number
  readonly widthNm: number
}

export interface CutBoard {
  /** Of the board on hand; `buy-1` for one that is to be bought. */
  readonly id: string
  /** Null: to be bought. */
  readonly number: number | null
  readonly wood: string
  readonly thicknessNm: number
  readonly widthNm: number
  readonly lengthNm: number
  readonly place: string
  readonly flaws: readonly { readonly fromNm: number; readonly toNm: number }[]
  readonly parts: readonly (BoardStretch & { readonly letter: string })[]
  readonly offcuts: readonly BoardStretch[]
  /** In the order in which they are made; `number` counts them. */
  readonly cuts: readonly {
    readonly number: number
    readonly way: 'crosscut' | 'rip'
    readonly through: BoardStretch
    readonly fromNm: number
    readonly toNm: number
    readonly text: string
  }[]
  readonly list: readonly {
    readonly letter: string
    readonly name: string
    readonly quantity: number
    readonly lengthNm: number
    readonly widthNm: number
    readonly thicknessNm: number
    readonly piece: PieceLabel
  }[]
  /** Shares of its area, 0..1. */
  readonly usedShare: number
  readonly keptShare: number
  readonly plannedAt: number | null
  readonly warnings: readonly string[]
  readonly cautions: readonly { readonly id: string; readonly text: string }[]
  /** Says what was shown: `boardCut` is refused when the plan has changed since. */
  readonly shown: string
}

export interface ToBuy {
  readonly woods: readonly WoodToBuy[]
  /** Of all boards that have a price, minor units; null: none has. */
  readonly costMinor: number | null
  /** What the wood of each order costs, by number. */
  readonly orders: readonly OrderWood[]
  readonly whyOrders: readonly string[]
  readonly whyBoards: readonly string[]
  /** What the open orders still take; what is on the shelf is not known. */
  readonly consumables: readonly ConsumableLine[]
  /** Glue, finish and hardware, what has to be bought first. */
  readonly supplies: readonly SupplyLine[]
}

/** Glue in grams, finish in millilitres. */
/** What is in stock of a glue, a finish or hardware; amounts as they are typed, empty where there is none. */
export interface SupplyLine {
  /** Null: nothing is kept of this product yet. */
  readonly id: string | null
  readonly name: string
  readonly kind: SupplyKind
  readonly productId: string | null
  readonly amount: string
  readonly reorderAt: string
  /** What the open orders still take, and how much of that is not there. */
  readonly needed: string
  readonly short: string
  readonly isOut: boolean
  /** Local day on which it comes. */
  readonly expectedOn: string | null
  /** It should be here by now. */
  readonly due: boolean
  readonly toBuy: boolean
}

export interface ConsumableLine {
  readonly kind: 'glue' | 'finish'
  readonly product: string
  readonly name: string
  /** Null: nothing is published, see the label. */
  readonly amount: { readonly min: number; readonly typical: number; readonly max: number } | null
  readonly why: readonly string[]
}

export interface WoodToBuy {
  readonly wood: string
  readonly lines: readonly {
    readonly rough: string
    readonly thicknessNm: number
    readonly widthNm: number
    readonly lengthNm: number
    readonly count: number
    readonly boardFeet: number
    readonly cutFor: readonly number[]
    /** Id of the order where they are for one alone. */
    readonly onlyFor: string | null
  }[]
  /** Of the boards in the list. */
  readonly boardFeet: number
  readonly withWasteBoardFeet: number
  readonly withWasteCubicMetres: number
  /** At the yard's price, with the waste, minor units; null: no price yet. */
  readonly costMinor: number | null
  /** What the yard asks, as the almanac has it: to be typed where it stands. */
  readonly price: AlmanacFact
  /** What was paid for earlier boards of it: `$9.10 a board foot for 3 boards`; null: nothing is known. */
  readonly paid: string | null
  readonly why: readonly string[]
}

/** Minor units that the wood of one order costs: out of boards on hand, and out of those to buy. */
export interface OrderWood {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly onHandMinor: number
  readonly toBuyMinor: number
  /** Ids of woods in it without a price: what they cost comes on top. */
  readonly unpriced: readonly string[]
}

/** What an order takes of each wood and costs, whatever boards it will come from. */
export interface WoodNeeded {
  /** Boards to get, with the waste. */
  readonly boardFeet: number
  readonly cubicMetres: number
  /** Of the woods that have a price, minor units; null: none has. */
  readonly costMinor: number | null
  /** Ids of woods without a price. */
  readonly unpriced: readonly string[]
  readonly why: readonly string[]
}

/** A photo as a page shows it. */
export interface PhotoView {
  readonly mediaType: string
  readonly base64: string
}
