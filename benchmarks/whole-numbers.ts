/** `7` or `25-32`: from where to where, the first at least 1; null for anything else. */
export function wholeNumbersIn(text: string): number[] | null {
  const [from, to = from] = text.split('-').map(Number)
  if (
    from === undefined ||
    to === undefined ||
    !Number.isInteger(from) ||
    !Number.isInteger(to) ||
    from < 1 ||
    to < from
  )
    return null
  return Array.from({ length: to - from + 1 }, (_, index) => from + index)
}
