import type { Units } from '../construction.ts'
import type { PieceUse } from '../../cautions/cautions-for-step.ts'
import type { FreeKind } from '../free-list/free-list-spec.ts'

/**
 * A construction of the maker's own as plain data: what is asked, which parts and which steps follow, with formulas of the fields.
 * Lengths in formulas are plain numbers in `units`, so that `ceil(width / 2.5)` keeps its meaning.
 */
export interface OwnConstruction {
  /** Begins with `own-`, so that it is never one of the built-in ids. */
  readonly id: string
  readonly name: string
  readonly about: string
  readonly units: Units
  /** What it is for, as far as cautions depend on it; absent: nothing special. */
  readonly isFor?: Exclude<PieceUse, 'other'>
  readonly fields: readonly OwnField[]
  readonly parts: readonly OwnPart[]
  readonly steps: readonly OwnStep[]
}

export interface OwnField {
  /** Name in formulas: a letter, then letters, digits or _. */
  readonly key: string
  readonly label: string
  readonly kind: OwnFieldKind
  /** What the form begins with, as typed; `yes` or empty for yes-no. */
  readonly start: string
  /** The least and the most that a size (nanometres) or number may be; null: whatever makes sense. */
  readonly least: number | null
  readonly most: number | null
  /** What there is to choose from, for a choice; formulas know the first as 1, the second as 2. */
  readonly choices: readonly string[]
}

export type OwnFieldKind = 'length' | 'count' | 'yes-no' | 'choice' | 'wood' | 'glue' | 'finish'

export interface OwnPart {
  readonly name: string
  /** Key of the wood field that it is made of. */
  readonly wood: string
  /** Formulas; sizes in the units of the construction. A quantity of 0 leaves the part out. */
  readonly quantity: string
  readonly length: string
  readonly width: string
  readonly thickness: string
}

export interface OwnStep {
  readonly name: string
  readonly kind: FreeKind
  /** Formula: hands-on minutes for one piece; with a standard time: how many of its units one piece has. */
  readonly minutes: string
  /** Operation of the almanac whose standard time it takes, learned times included; absent: the minutes are the step's own. */
  readonly standardTime?: string
  /** Formulas: the least and the most minutes for one piece; absent: as far apart as is usual for its kind. */
  readonly least?: string
  readonly most?: string
  /** What must pass after it: nothing, so many minutes, or what the glue or finish of that field asks for. */
  readonly wait: OwnStepWait
  readonly atMostMin: number | null
  /** Positions of the steps that come directly before it, from 0. */
  readonly after: readonly number[]
  readonly dusty: boolean
  /** Formula: clamps or places for one piece. */
  readonly units: string
  /** Formula: the step is only there when it is not 0; empty: always. */
  readonly when: string
  /** Whether it may stop at closing time; `usual`: work may, a glue-up and a coat may not. */
  readonly stops: 'usual' | 'may-stop' | 'one-go'
  /** What it takes `units` of; `usual`: clamps for a glue-up, the rack for a coat, nothing for work. */
  readonly takes: 'usual' | OwnStation
  /** How long it takes them; `usual`: clamps until they come off, else until the next step starts. */
  readonly until: 'usual' | 'end' | 'next'
  /** Steps of one set-up family share the machine's set-up; null: none of its own. */
  readonly setUp: { readonly family: string; readonly minutes: string } | null
}

/** Stations by what they are for, as constructions ask for them. */
export type OwnStation = 'clamps' | 'rack' | 'glueUpBench' | 'finishingCorner'

export type OwnStepWait =
  | { readonly kind: 'none' }
  | { readonly kind: 'minutes'; readonly minutes: number }
  /** Key of the glue or finish field. */
  | { readonly kind: 'product'; readonly field: string }
