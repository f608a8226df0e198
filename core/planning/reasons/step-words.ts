import type { PlanStep } from '../problem/model.ts'

/** A step as a sentence names it: “First glue-up” of Harbour checkerboard. */
export const stepWords = ({ name, pieceName }: Pick<PlanStep, 'name' | 'pieceName'>): string =>
  pieceName === '' ? `“${name}”` : `“${name}” of ${pieceName}`

/** 45 min, 3 h, 2 h 30 min, 5 days. */
export function hoursWords(minutes: number): string {
  const sign = minutes < 0 ? '-' : ''
  const all = Math.abs(minutes)
  if (all >= 2880 && all % 1440 === 0) return `${sign}${all / 1440} days`
  const hours = Math.floor(all / 60)
  const rest = all % 60
  if (hours === 0) return `${sign}${rest} min`
  return rest === 0 ? `${sign}${hours} h` : `${sign}${hours} h ${rest} min`
}
