/**
 * The planning model: plain data in, plain data out, so that it crosses to a worker thread unchanged.
 *
 * All instants are whole minutes since the Unix epoch (UTC); all intervals are half-open, [from, to): a maker or station
 * freed at t can be used from t on. Durations are whole minutes. Terms follow the scheduling literature (RCPSP with
 * calendars, generalised precedence relations, sequence-dependent set-ups and weighted tardiness).
 */
export interface PlanningProblem {
  readonly now: number
  readonly makers: readonly PlanMaker[]
  readonly stations: readonly PlanStation[]
  readonly clocks: readonly CureClock[]
  readonly commissions: readonly PlanCommission[]
  readonly steps: readonly PlanStep[]
  readonly lags: readonly Lag[]
  /** What was last told to the maker for today and tomorrow; of two equally good plans the one that keeps more of it wins. */
  readonly announced: readonly AnnouncedStart[]
  /**
   * What is late by more than this counts with the square of the days beyond it as well, so that nobody is left behind for the
   * sake of many. Absent: lateness counts by the minute, however long it lasts.
   */
  readonly patienceMin?: number
}

export interface Interval {
  readonly from: number
  readonly to: number
}

export interface PlanMaker {
  readonly id: string
  readonly name: string
  /**
   * Working hours: sorted, disjoint, each a session in the shop; two that touch are one session. Beyond the last one
   * nobody works: give a horizon of years.
   */
  readonly hours: readonly Interval[]
}

export interface PlanStation {
  readonly id: string
  readonly name: string
  readonly capacity: number
}

/**
 * A clock on which a wait runs: progress per elapsed minute, piecewise constant. `segments` are sorted by `from`, the
 * first one starts at or before `now`, each holds until the next, the last for ever. Rate 1 is the reference condition,
 * 0 means the wait stands still (too cold). A wait of m minutes that begins at t is over at the least whole minute e
 * with integral of the rate from t to e >= m.
 */
export interface CureClock {
  readonly id: string
  readonly segments: readonly { readonly from: number; readonly rate: number }[]
}

export interface PlanCommission {
  readonly id: string
  readonly name: string
  /** The instant by which it is promised; null when nothing was promised yet. */
  readonly promise: number | null
  /** The chance of that instant when it was promised, if no order was taken later, 0..1; null or absent: nobody worked it out. */
  readonly chanceAlone?: number | null
  /**
   * What the planner aims at in place of the promise, which is the same or sooner: so a part of the promise's safety is kept
   * from it, see aim.ts. Absent: the promise.
   */
  readonly aim?: number
  /** When the plan that the promise was quoted from had it done. */
  readonly quotedFor?: number
  /**
   * Done by then it is as far ahead of its promise as it was quoted to be: whoever fits it in leaves the time before that to others. Later than
   * `quotedFor` where the maker gave a day after all that were offered. Absent: `quotedFor`.
   */
  readonly planBy?: number
  /** How bad it is to be late, per minute, relative to the others; > 0. */
  readonly weight: number
}

export interface PlanStep {
  readonly id: string
  readonly name: string
  readonly pieceId: string
  readonly pieceName: string
  readonly commissionId: string
  /** Hands-on working minutes still to be done, without set-up; 0 is allowed (a milestone: needs no maker, pays no set-up). */
  readonly minutes: number
  /** What its real length is drawn from; absent: its minutes are certain. */
  readonly timing?: StepTiming
  /**
   * Under which names its own luck and its order's are drawn: whoever has the same names has the same luck, whatever their ids. Absent: under
   * the ids.
   */
  readonly luck?: { readonly step: string; readonly order: string }
  /** Makers needed at the same time for the whole hands-on duration; at least 1 unless it is a milestone. */
  readonly hands: number
  /** Ids of makers who may do it; absent: anyone. */
  readonly makers?: readonly string[]
  /**
   * true: may stop at closing time and go on in the next session; its maker does nothing else until it is finished. It
   * pauses only while the hours of one of its makers are closed. false: start to end lie in one session of each maker.
   */
  readonly interruptible: boolean
  /**
   * Least stretch worth starting in a session; 0 or 1: no minimum. Only for interruptible steps; the last stretch may be
   * shorter. A stretch of common working time that is shorter is left out as if the shop were closed.
   */
  readonly smallestStretchMin: number
  readonly holds: readonly Hold[]
  readonly room: string
  /** Raises dust in its room while it is worked on: exactly its stretches, setup and remedy minutes included. */
  readonly dusty: boolean
  /**
   * Minutes after its end during which the piece is tacky and no dust may fly in its room; 0: none. On `tackyClock` if
   * given. Such a step is wet from its first stroke, so the dust stays down from its start.
   */
  readonly tackyMin: number
  readonly tackyClock?: string
  /**
   * Preparing the machine: minutes put in front of the step, once, however many sessions it lasts. Paid unless a maker of
   * the step has the family set up: the last step with a set-up family that this maker ended before is of the same
   * family, and ended in the session in which this one starts. So a set-up does not outlive the night.
   */
  readonly setUp?: { readonly family: string; readonly minutes: number }
  /** Not before this instant (customer, timber delivery, on hold, "still tacky: push back"). */
  readonly release?: number
  /** What it waits for until then, as a sentence without the full stop: "Lumber: Sat, Dec 5, then 7 days to rest"; absent: it is on hold. */
  readonly releaseWhy?: string
  /**
   * Where glue or finish may be put on, as far as the air goes: sorted, disjoint. Every stretch of the step lies within one of
   * them, as if the shop were closed in between; what has started is not checked again. Absent: at any time.
   */
  readonly allowed?: readonly Interval[]
  /** What is wrong with the air outside `allowed`, and what would do, as sentences. */
  readonly allowedHelp?: string
  /**
   * The maker wants it started within this interval (a day). Never before `from`; where it cannot start before `to`, the
   * plan says so in `missedPins` and starts it later. A pin that is over (`to` <= now) counts for nothing.
   */
  readonly pinned?: Interval
  readonly state: StepState
}

/** How the length of a step is known. */
export interface StepTiming {
  /** The standard time's id, by which the shop's own times are learned. */
  readonly operation: string
  /** The whole step by the almanac's book, shared set-up apart: what learned factors are on. */
  readonly standardMin: number
  /** What has been worked on it already. */
  readonly workedMin: number
}

export type StepState =
  | { readonly kind: 'to-do' }
  /**
   * In progress: `minutes` is what is left of it, `maker` has it on the bench (null: nobody said who); its holds began at
   * `startedAt`. It goes on at once, or at the next opening, before anything else that its maker does; if it cannot be
   * interrupted, past closing time where need be. Nothing that led to it is checked again: it did start.
   */
  | { readonly kind: 'running'; readonly startedAt: number; readonly maker: string | null }
  /** `maker`: who did it, for the setup that may still be in the machine; absent: the only maker of the shop, or nobody known. */
  | { readonly kind: 'done'; readonly startedAt: number; readonly endedAt: number; readonly maker?: string }

/**
 * Station units taken from the start of the step until `until`. A step that is done goes on holding until then. A step
 * named by `until` must come later by way of lags. More units held by what has already started than there are is
 * taken as a fact: nothing else gets any until enough are free.
 */
export interface Hold {
  readonly station: string
  readonly units: number
  readonly until: HoldEnd
}

export type HoldEnd =
  | { readonly kind: 'end' }
  /** So many minutes after the end of the step, day and night; on a cure clock if given. */
  | { readonly kind: 'after'; readonly minutes: number; readonly clock?: string }
  | { readonly kind: 'start-of'; readonly step: string }
  | { readonly kind: 'end-of'; readonly step: string }

/**
 * Elapsed time between two steps, day and night: readyAt(end(from), minMin) <= start(to) <= end(from) + maxMin. On a clock
 * the window keeps its width from its opening: start(to) <= readyAt(end(from), minMin) + maxMin - minMin. The start is that of the first stretch, setup and remedy minutes included. A negative minMin is allowed on lags without a clock.
 */
export interface Lag {
  readonly from: string
  readonly to: string
  readonly minMin: number
  /** Null: no limit. */
  readonly maxMin: number | null
  /** Cure clock on which minMin runs; absent: plain elapsed time. From there to maxMin is always plain elapsed time. */
  readonly clock?: string
  readonly wait: WaitKind
  /** What the wait is, in the maker's words: "glue in clamps", "second coat drying". */
  readonly name: string
  /**
   * What the trade does when maxMin cannot be met: extra hands-on minutes put in front of `to`. Absent: the window is
   * hard, and a problem that cannot meet it is refused, unless a step before `to` has already started: what happened
   * cannot be refused, so the window is reported as missed, without a remedy.
   */
  readonly remedy?: { readonly name: string; readonly minutes: number }
  /** Published range of minMin, for simulation: optimistic <= minMin <= pessimistic. */
  readonly spread?: { readonly optimistic: number; readonly pessimistic: number }
}

export type WaitKind = 'none' | 'in-clamps' | 'curing' | 'drying' | 'resting'

export interface AnnouncedStart {
  readonly step: string
  readonly start: number
}

/** Who does what when. Every step of the problem is in it, done ones with their logged times. */
export interface Plan {
  readonly steps: readonly PlannedStep[]
  readonly pieces: readonly { readonly id: string; readonly doneAt: number }[]
  readonly commissions: readonly PlannedCommission[]
  /** Windows that could not be met whatever is done, with the remedy that was put in. */
  readonly missedWindows: readonly MissedWindow[]
  /** Steps that could not start within the day that the maker wanted. */
  readonly missedPins: readonly MissedPin[]
  readonly objective: Objective
  /** 'first': the first schedule; 'improved': a search went over it; 'optimal': a lower bound proves that none is better. */
  readonly quality: 'first' | 'improved' | 'optimal'
}

export interface PlannedStep {
  readonly id: string
  readonly start: number
  readonly end: number
  /** The stretches of work in which it is done, in order; empty for a milestone or a done step. */
  readonly stretches: readonly Interval[]
  readonly makers: readonly string[]
  /** Minutes of `stretches` that prepare the machine, and minutes of a remedy; the rest is the step itself. */
  readonly setUpMin: number
  readonly remedyMin: number
}

export interface PlannedCommission {
  readonly id: string
  readonly doneAt: number
  /** Minutes past the promise; 0 when in time or nothing promised. */
  readonly lateMin: number
}

export interface MissedWindow {
  readonly from: string
  readonly to: string
  readonly windowName: string
  readonly closedAt: number
  readonly startedAt: number
  /** What is put in front of `to`; empty where the window has no remedy. */
  readonly remedy: string
}

export interface MissedPin {
  readonly step: string
  readonly wanted: Interval
  readonly startedAt: number
}

/** Compared in this order, each the less the better. */
export interface Objective {
  /** Windows and pins that could not be kept. */
  readonly missedWindows: number
  /** Sum of weight x minutes past the aim, and of what impatience adds, see `patienceMin`. */
  readonly weightedTardiness: number
  /** Sum over commissions without promise of weight x completion, in minutes from now. */
  readonly weightedCompletion: number
  readonly makespanMin: number
  /** Announced starts that were moved. */
  readonly moved: number
}

/** Why a step starts when it does: the link that binds, one back towards now. */
export type Cause =
  | { readonly kind: 'now' }
  /** `why` as in the step's `releaseWhy`. */
  | { readonly kind: 'release'; readonly until: number; readonly why?: string }
  | { readonly kind: 'pinned'; readonly from: number }
  /** Follows another step at once, or after a wait. */
  | { readonly kind: 'wait'; readonly lag: Lag; readonly over: number }
  /** Ready earlier, but the shop is closed, or the session left is too short. */
  | { readonly kind: 'closed'; readonly from: number; readonly to: number; readonly maker: string }
  /** Ready and somebody there, but too cold, too warm or too damp to put glue or finish on, or it would not be dry in time. */
  | { readonly kind: 'air'; readonly from: number; readonly to: number }
  /** The hands are at another step. */
  | { readonly kind: 'hands'; readonly maker: string; readonly step: string; readonly until: number }
  | { readonly kind: 'station'; readonly station: string; readonly heldBy: readonly string[]; readonly until: number }
  /** Dust against tacky finish. */
  | { readonly kind: 'clean-air'; readonly step: string; readonly until: number }
  /** Started later on purpose, so that a window further on can be met. */
  | { readonly kind: 'window'; readonly lag: Lag }

/**
 * The chain that decides one date, first link first: each step of it with what it waited for. A step that waited for one
 * thing after another (the glue, then the opening of the shop) stands in as many links, in that order.
 */
export interface BindingChain {
  readonly commissionId: string
  readonly links: readonly {
    readonly step: string
    readonly start: number
    readonly end: number
    readonly cause: Cause
  }[]
}
