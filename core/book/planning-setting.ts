import type { AnnouncedStart, PlanMaker, PlanStation } from '../planning/index.ts'
import type { BookStep } from './book.ts'
import type { TimeChoices } from '../almanac/times-in-use.ts'
import type { StandardTime } from '../constructions/shop-facts.ts'
import type { AirOfPlaces, PlaceForWaits } from './where-it-dries.ts'

/** What planning needs beside the book: the almanac turned into instants. */
export interface PlanningSetting {
  readonly now: number
  readonly makers: readonly PlanMaker[]
  readonly stations: readonly PlanStation[]
  /** On which a wait for a glue or finish runs in this shop's air: in clamps it sets, then it cures, a coat dries. */
  readonly clockOf: AirOfPlaces['clockOf']
  /** When a glue or finish may be put on, where it is carried to that place to dry; null: at any time. */
  readonly applicationOf: AirOfPlaces['applicationOf']
  /** Where pieces may dry beside the shop; each has a station of its own, `placeStation`. */
  readonly places: readonly PlaceForWaits[]
  /** Station on which coats dry in the shop. */
  readonly rack: string | null
  /** First minute of a local day, and of the day after it. */
  readonly startOfDay: (day: string) => number
  readonly endOfDay: (day: string) => number
  readonly announced: readonly AnnouncedStart[]
  /** Standard times by operation, and what the maker decided about them. */
  readonly standardTime: (operation: string) => StandardTime | undefined
  readonly timeChoices: TimeChoices
  /** Wood, glue, finish or hardware that a step takes and that is not there yet; null: everything is there. */
  readonly suppliesFor: (step: BookStep) => SupplyHold | null
  /** Makers who may do a step; null: anyone. */
  readonly ableFor: (step: BookStep) => readonly string[] | null
  /** The station of the machine that a step is done on, where the shop counts it; null: none. */
  readonly machineFor: (step: BookStep) => string | null
}

/** What a step waits for that has to be bought or brought. */
export interface SupplyHold {
  /** Instant from which it can be worked on; null: nobody knows. */
  readonly until: number | null
  /** A sentence without the full stop: "Lumber: Sat, Dec 5, then 7 days to rest". */
  readonly why: string
}
