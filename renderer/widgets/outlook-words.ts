import type { Outlook } from '../../desk/screens/outlook.ts'

/** Late as a fact, not as a chance: finished too late, or not finished on the promised day. */
export const isLate = ({ danger, finishedOn, daysLate }: Outlook): boolean =>
  danger === 'late' && (finishedOn !== null || daysLate > 0)

/** Whether `ChanceText` has something to say: then a comma stands before it, as "Dec 9 9 chances in 10" reads as a day of its own. */
export const saysChance = ({ chance, fresh, daysLate }: Outlook): boolean => chance !== null || !fresh || daysLate > 0
