/** Minutes as people say them: `45 min`, `2 h`, `1 h 30 min`, `3 days`, `1 day 4 h`. Rounded to whole minutes, above a day to hours. */
export function writeMinutes(minutes: number): string {
  const whole = Math.max(0, Math.round(minutes))
  if (whole < 60) return `${whole} min`
  if (whole < day) return joined(Math.floor(whole / 60), 'h', whole % 60, 'min')
  const hours = Math.round(whole / 60)
  const days = Math.floor(hours / 24)
  return joined(days, days === 1 ? 'day' : 'days', hours % 24, 'h')
}

const day = 24 * 60

const joined = (large: number, largeUnit: string, small: number, smallUnit: string): string =>
  small === 0 ? `${large} ${largeUnit}` : `${large} ${largeUnit} ${small} ${smallUnit}`
