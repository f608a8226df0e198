/**
 * Left edges of labels of one width under their marks: centered where there is room, else moved by as little as keeps them in
 * order, apart, and within the line.
 * @param marks ascending, in the unit of `labelWidth` and `width`; the labels fit side by side
 */
export function labelsAt(marks: readonly number[], labelWidth: number, width: number): readonly number[] {
  const lefts = marks.map((mark) => Math.max(0, mark - labelWidth / 2))
  for (let at = 1; at < lefts.length; at += 1) {
    lefts[at] = Math.max(lefts[at] ?? 0, (lefts[at - 1] ?? 0) + labelWidth)
  }
  let edge = width
  for (let at = lefts.length - 1; at >= 0; at -= 1) {
    lefts[at] = Math.min(lefts[at] ?? 0, edge - labelWidth)
    edge = lefts[at] ?? 0
  }
  return lefts
}
