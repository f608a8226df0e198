/** ", not counting 2 steps without a time": steps that were done and say nothing of how long they took; empty where there are none. */
export const untimedWords = (steps: number): string =>
  steps === 0 ? '' : `, not counting ${steps === 1 ? '1 step' : `${steps} steps`} without a time`
