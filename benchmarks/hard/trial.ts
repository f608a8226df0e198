/** One kind of attack. Everything random comes from `random`, 0 to 1, so that a seed tells it all but the machine's own timing. */
export type Trial = (setting: {
  /** Share of the full size. */
  readonly scale: number
  readonly random: () => number
  /** Which part of what is tried one after the other, where a run is shared out: `[1, 4]` is the second of four. */
  readonly part: readonly [number, number]
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

/**
 * What to say of writers that never began, so that nothing was tried with them: a few are the machine's, more than that make
 * the whole trial worth nothing.
 */
export const tooFewBegan = (notBegun: number, runs: number): string[] =>
  notBegun > Math.max(1, runs * 0.02) ? [`${notBegun} of ${runs} writers never began: the trial says nothing`] : []
