/** Milliseconds until something that a page is to show or do is taken to hang, however busy the machine is. */
export const PATIENCE_MS = 100_000
