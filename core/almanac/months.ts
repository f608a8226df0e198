/** The months in which the unheated air of a shop is given, January first. */
export const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const

/**
 * Twelve values that swing from the coldest month's to the warmest one's and back, slowly at both ends.
 * @param coldest position of the month, 0 for January
 * @source common practice, no source: two half cosines, as the seasons of a temperate climate nearly follow
 */
export function yearCurve(
  coldest: { readonly month: number; readonly value: number },
  warmest: { readonly month: number; readonly value: number },
): readonly number[] {
  const rise = (warmest.month - coldest.month + 12) % 12
  const middle = (coldest.value + warmest.value) / 2
  const swing = (warmest.value - coldest.value) / 2
  return MONTHS.map((_, month) => {
    if (rise === 0) return coldest.value
    const since = (month - coldest.month + 12) % 12
    const turn = since <= rise ? since / rise : 1 + (since - rise) / (12 - rise)
    return middle - swing * Math.cos(Math.PI * turn)
  })
}
