import type { Units } from '../core/constructions/construction.ts'
import type { Currency } from '../core/money/currency.ts'
import type { Problem } from '../core/problems.ts'
import type { Right } from '../db/kept-devices.ts'
import type { BackupRow } from './safekeeping.ts'

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
  /** The paired phone or tablet that asks; null: the desk itself. */
  readonly device: { readonly name: string; readonly right: Right } | null
}

/** Whether better dates than the ones shown are looked for, or have been. */
export type BetterDates =
  /** `share` of the time or of the schedules that it may take, 0..1. */
  | { readonly kind: 'looking'; readonly share: number }
  /** 'best': proved that nothing better can be done; 'found': what is shown is the better plan. */
  | { readonly kind: 'nothing-to-look-for' | 'not-looked' | 'stopped' | 'found' | 'none-found' | 'best' }
