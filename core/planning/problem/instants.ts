/** Later than any instant that a plan can name: a hold that nothing closes yet, a wait that is never over. */
export const NEVER = 1_000_000_000

/** Instants outside this range are refused: they cannot be meant, and must not come near `NEVER`. */
export const EARLIEST = 0
export const LATEST = 500_000_000
