/** One kind of attack. Everything random comes from `random`, 0 to 1, so that a seed tells it all but the machine's own timing. */
export type Trial = (setting: {
  /** Share of the full size. */
  readonly scale: number
  readonly random: () => number
  /** Whether the time that was given to the trial is over: what it has by then is what it tells. */
  readonly isOver: () => boolean
  /** An empty folder, removed afterwards. */
  readonly folder: string
}) => Promise<Outcome>

export interface Outcome {
  readonly runs: number
  /** What was counted on the way. */
  readonly said: string
  /** One line for each run in which something broke. */
  readonly broken: readonly string[]
}

export const share = (full: number, scale: number): number => Math.max(1, Math.round(full * scale))
