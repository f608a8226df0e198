/** What went wrong. */
export const FAILURE_REASONS = ['glue-up', 'crack', 'tear-out', 'finish', 'mistake', 'other'] as const
export type FailureReason = (typeof FAILURE_REASONS)[number]

/** As people read them. */
export const FAILURE_WORDS: Readonly<Record<FailureReason, string>> = {
  'glue-up': 'Glue-up',
  crack: 'Crack',
  'tear-out': 'Tear-out',
  finish: 'Finish',
  mistake: 'Mistake',
  other: 'Other',
}
