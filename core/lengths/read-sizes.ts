import { failed, ok, problem, within, type Problem, type Result } from '../problems.ts'
import type { LengthNm, LengthUnits } from './length.ts'
import { plainMarks } from './plain-marks.ts'
import { readLength, unitNamedLast, type UnitName } from './read-length.ts'

/**
 * Reads sizes joined by x, `*` or by: `16x12`, `16 x 12 x 1 1/2`, `40 × 30 × 4 cm`, `1' 6" by 12`. A unit that is named once
 * counts for all sizes without one; problems name the position (`0`, `1`, ...) as their field.
 */
export function readSizes(text: string, defaultUnits: LengthUnits): Result<readonly LengthNm[]> {
  const parts = plainMarks(text)
    .split(/\s*(?:x|\*|\bby\b)\s*/)
    .map((part) => part.trim())
  const named = new Set(parts.map(unitNamedLast).filter((unit) => unit !== null))
  const sharedUnit: UnitName | null = named.size === 1 ? ([...named][0] ?? null) : null
  if (
    named.size > 0 &&
    parts.some((part) => unitNamedLast(part) === null) &&
    (sharedUnit === null || sharedUnit === 'ft')
  ) {
    return failed(
      problem('sizes-unit', `“${text.trim()}” leaves open which unit each size has: write it after every size.`),
    )
  }
  const problems: Problem[] = []
  const sizesNm: LengthNm[] = []
  for (const [position, part] of parts.entries()) {
    const whole = sharedUnit !== null && part !== '' && unitNamedLast(part) === null ? `${part} ${sharedUnit}` : part
    const size = readLength(whole, defaultUnits)
    if (size.ok) sizesNm.push(size.value)
    else problems.push(...size.problems.map((one) => within(String(position), one)))
  }
  return problems.length > 0 ? failed(...problems) : ok(sizesNm)
}

/** Sizes found inside a line of other words, and which stretch of the line they take. */
export interface FoundSizes {
  readonly from: number
  readonly to: number
  readonly sizesNm: readonly LengthNm[]
}

/**
 * Looks in a line as it is spoken (`2 boards 16x12 walnut and maple, by 12 Dec`) for the first group of two or more sizes joined
 * by x or by; null where there is none. A single number is not taken for a size, nor a date for a third one. `in` before a word
 * (`400x300 in walnut`) is no unit in a shop that measures in millimetres.
 */
export function findSizes(line: string, defaultUnits: LengthUnits): FoundSizes | null {
  for (const found of line.matchAll(defaultUnits === 'inch' ? GROUP_IN_INCH_SHOP : GROUP_IN_MILLIMETRE_SHOP)) {
    const sizes = readSizes(found[0], defaultUnits)
    if (sizes.ok) return { from: found.index, to: found.index + found[0].length, sizesNm: sizes.value }
  }
  return null
}

const NUMBER = String.raw`(?:\d+(?:\s+|\s?[-‐‑–]\s?)\d+\s?[/⁄∕]\s?\d+|\d+\s?[/⁄∕]\s?\d+|\d*[.,]\d+|\d*\s?[½⅓⅔¼¾⅛⅜⅝⅞]|\d+)(?!\d)`
const NO_DATE = String.raw`(?!\s*(?:\.|th\b|st\b|nd\b|rd\b|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec))`

function sizeGroup(inchWord: string): RegExp {
  const unit = String.raw`(?:\s?(?:mm|cm|m|${inchWord}|ft|foot|feet)\b|\s?(?:''|["'″′”’“‘]))`
  const oneSize = String.raw`${NUMBER}${unit}?(?:\s?-?\s?(?<=['′’]\s?-?\s?|ft\.?\s?)${NUMBER}${unit}?)?`
  const joinedByX = String.raw`(?:\s*(?:x|×|\*)\s*${oneSize})+`
  const joinedByWord = String.raw`(?:\s*\bby\s*${oneSize}${NO_DATE})+`
  return new RegExp(String.raw`(?<![\w/.,])${oneSize}(?:${joinedByX}|${joinedByWord})(?![\w/])`, 'gi')
}

const GROUP_IN_INCH_SHOP = sizeGroup('in|inch|inches')
const GROUP_IN_MILLIMETRE_SHOP = sizeGroup(String.raw`in(?!\s+[a-z])|inch|inches`)
