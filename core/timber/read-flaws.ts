import type { LengthNm, LengthUnits } from '../lengths/length.ts'
import { plainMarks } from '../lengths/plain-marks.ts'
import { readLength, unitNamedLast } from '../lengths/read-length.ts'
import { writeLength } from '../lengths/write-length.ts'
import { failed, ok, problem, type Problem, type Result } from '../problems.ts'
import type { BoardSpan } from './cutting-model.ts'

/**
 * Reads lengths of a board to avoid, measured from its left end: `12-15, 40 to 41 1/2, 88`. One that has no end is a point: a nail.
 * @param lengthNm of the board; 0: not known
 */
export function readFlaws(text: string, lengthNm: LengthNm, units: LengthUnits): Result<readonly BoardSpan[]> {
  const problems: Problem[] = []
  const flaws: BoardSpan[] = []
  for (const said of plainMarks(text).split(/[,;]\s+|[,;]$|;/)) {
    if (said.trim() === '') continue
    const flaw = readStretch(said.trim(), units)
    if (flaw === null)
      problems.push(
        problem('flaw', `“${said.trim()}” is not a stretch of a board: type from and to, like 12-15 or 40 to 41 1/2.`),
      )
    else if (lengthNm > 0 && flaw.toNm > lengthNm)
      problems.push(
        problem('flaw', `“${said.trim()}” ends beyond the board, which is ${writeLength(lengthNm, units)} long.`),
      )
    else flaws.push(flaw)
  }
  return problems.length > 0 ? failed(...problems) : ok(flaws.toSorted((a, b) => a.fromNm - b.fromNm))
}

/** As they are typed: `12"-15", 40"-41 1/2"`. */
export const writeFlaws = (flaws: readonly BoardSpan[], units: LengthUnits): string =>
  flaws
    .map(({ fromNm, toNm }) =>
      fromNm === toNm ? writeLength(fromNm, units) : `${writeLength(fromNm, units)} to ${writeLength(toNm, units)}`,
    )
    .join(', ')

function readStretch(said: string, units: LengthUnits): BoardSpan | null {
  for (const [from, to] of splits(said)) {
    const unit = unitNamedLast(from) === null ? unitNamedLast(to) : null
    const fromNm = readLength(unit === null || unit === 'ft' ? from : `${from} ${unit}`, units)
    const toNm = readLength(to, units)
    if (fromNm.ok && toNm.ok && fromNm.value < toNm.value) return { fromNm: fromNm.value, toNm: toNm.value }
  }
  const point = readLength(said, units)
  return point.ok ? { fromNm: point.value, toNm: point.value } : null
}

/** Ways to take a text apart into from and to. A hyphen may also stand within a size: 18-3/4. */
function* splits(said: string): Generator<readonly [string, string]> {
  const word = /^(.+?)\s*(?:\bto\b|\.\.|\s-\s)\s*(.+)$/.exec(said)
  if (word?.[1] !== undefined && word[2] !== undefined) yield [word[1], word[2]]
  for (const { index } of said.matchAll(/-/g)) {
    const to = said.slice(index + 1).trim()
    if (!/^\d+\s*\/\s*\d+$/.test(to)) yield [said.slice(0, index).trim(), to]
  }
}
