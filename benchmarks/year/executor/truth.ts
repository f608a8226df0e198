/**
 * What is true in a shop, whether anybody knows it or not: plain data and two questions. Instants are whole minutes since the Unix
 * epoch, durations minutes. One maker.
 *
 * Nothing here or beside it comes from the planner: what a plan is worth is told by rules written down a second time.
 */
export interface Truth {
  readonly stations: ReadonlyMap<string, number>
  readonly steps: ReadonlyMap<string, TrueStep>
  /** Waits that lead to each step; a step that is missing here follows nothing. */
  readonly waitsInto: ReadonlyMap<string, readonly TrueWait[]>
  /** Hands-on minutes that the attempt takes, from 1, without set-up and remedies. */
  readonly minutes: (step: string, attempt: number) => number
  /** What is found to have gone wrong once a step is done; null: nothing, as usual. */
  readonly mishap: (step: string, attempt: number) => Mishap | null
}

/** A joint that failed, or a piece that cracked. */
export interface Mishap {
  readonly reason: 'glue-up' | 'crack'
  /** What went wrong, which may have been found out at a later step. */
  readonly step: string
  /** Steps that are to be done again. */
  readonly undone: readonly string[]
}

export interface TrueStep {
  readonly id: string
  readonly setUp: { readonly family: string; readonly minutes: number } | null
  /** May stop at closing time; else it is finished, however late it gets. */
  readonly interruptible: boolean
  /** Not begun where less than that is left of the evening; for what may be interrupted. */
  readonly smallestStretchMin: number
  readonly dusty: boolean
  /** How long its finish is tacky; null: it leaves nothing tacky. */
  readonly tacky: TrueDuration | null
  readonly holds: readonly TrueHold[]
}

/** Minutes on a clock; null: by the wall's. */
export interface TrueDuration {
  readonly minutes: number
  readonly clock: TrueClock | null
}

/** How fast things cure: so many minutes of progress a minute, from each instant to the next; the last one for ever. */
export type TrueClock = readonly { readonly from: number; readonly rate: number }[]

export interface TrueHold {
  readonly station: string
  readonly units: number
  readonly until:
    | { readonly kind: 'end' }
    | { readonly kind: 'after'; readonly over: TrueDuration }
    | { readonly kind: 'start-of' | 'end-of'; readonly step: string }
}

export interface TrueWait {
  readonly from: string
  readonly over: TrueDuration
  /** How long what follows may start once the wait is over; null: for ever. */
  readonly openMin: number | null
  /** Minutes in front of what follows when it starts later than that. */
  readonly remedyMin: number
}

/** When something that begins at `start` is over: the first whole minute by which so much progress has been made; Infinity: never. */
export function overAt(start: number, { minutes, clock }: TrueDuration): number {
  if (clock === null || minutes <= 0) return start + Math.max(0, Math.ceil(minutes - 1e-6))
  let left = minutes - 1e-6
  for (let segment = 0; segment < clock.length; segment++) {
    const { from, rate } = clock[segment]!
    const to = clock[segment + 1]?.from ?? Infinity
    const begun = Math.max(start, from)
    if (to <= begun) continue
    if (rate > 0 && left <= rate * (to - begun)) return Math.ceil(begun + left / rate)
    left -= rate * (to - begun)
  }
  return Infinity
}
