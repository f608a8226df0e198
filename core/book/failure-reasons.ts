/** What went wrong. */
export const FAILURE_REASONS = ['glue-up', 'crack', 'tear-out', 'finish', 'mistake', 'other'] as const
export type FailureReason = (typeof FAILURE_REASONS)[number]
