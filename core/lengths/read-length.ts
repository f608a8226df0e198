import { failed, ok, problem, type Problem, type Result } from '../problems.ts'
import { NM_PER_FOOT, NM_PER_INCH, NM_PER_METRE, NM_PER_MILLIMETRE, type LengthNm, type LengthUnits } from './length.ts'
import { plainMarks } from './plain-marks.ts'

/** No piece of a small shop is longer: a bigger figure is a slip of the unit. */
const LONGEST_NM = 100 * NM_PER_METRE

/**
 * Reads one size as makers write it: `18 3/4`, `18-3/4"`, `1' 6 1/2"`, `1 ft 6 in`, `.75`, `¾`, `476 mm`, `47,6 cm`, `1.2 m`.
 * A number without a unit is in `defaultUnits`. The result is a whole number of nanometres, zero or more.
 */
export function readLength(text: string, defaultUnits: LengthUnits): Result<LengthNm> {
  const asked = text.trim()
  if (asked === '')
    return failed(problem('length-missing', `No size yet: type one, such as ${EXAMPLES[defaultUnits]}.`))
  const terms = readTerms(plainMarks(asked), asked)
  if (!terms.ok) return terms
  return addTerms(terms.value, asked, defaultUnits)
}

/** Which unit a size names last (the inches of `1' 6"`), or null where it names none. Used to share a unit among several sizes. */
export function unitNamedLast(text: string): UnitName | null {
  const terms = readTerms(plainMarks(text.trim()), text)
  return terms.ok ? (terms.value.at(-1)?.unit ?? null) : null
}

export type UnitName = 'ft' | 'in' | 'm' | 'cm' | 'mm'

const EXAMPLES: Record<LengthUnits, string> = { inch: '18 3/4 or 1\' 6"', millimetre: '476 or 47.6 cm' }

const UNIT_NM: Record<UnitName, number> = {
  ft: NM_PER_FOOT,
  in: NM_PER_INCH,
  m: NM_PER_METRE,
  cm: 10 * NM_PER_MILLIMETRE,
  mm: NM_PER_MILLIMETRE,
}

const UNIT_SPELLINGS: ReadonlyMap<string, UnitName> = new Map([
  ...['ft', 'foot', 'feet', "'"].map((word) => [word, 'ft'] as const),
  ...['in', 'inch', 'inches', '"'].map((word) => [word, 'in'] as const),
  ...['m', 'metre', 'metres', 'meter', 'meters'].map((word) => [word, 'm'] as const),
  ...['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'].map((word) => [word, 'cm'] as const),
  ...['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'].map((word) => [word, 'mm'] as const),
])

/** One number with its unit; an exact fraction, so that 3/64 stays 3/64. */
interface Term {
  readonly top: number
  readonly bottom: number
  readonly fractional: boolean
  readonly unit: UnitName | null
}

const TERM =
  /^(?:(\d+)(?:\s+|\s*-\s*)(\d+)\s*\/\s*(\d+)|(\d+)\s*\/\s*(\d+)|(\d*)([.,])(\d+)|(\d+))\s*(?:([a-z]+)\.?|(["']))?/

function readTerms(plain: string, asked: string): Result<readonly Term[]> {
  if (/^-/.test(plain))
    return failed(problem('length-negative', `“${asked}” is less than nothing: a size has no minus sign.`))
  if (/(?:^|[^a-z])x|\*|\bby\b/.test(plain)) {
    return failed(problem('length-several', `“${asked}” is more than one size: only one belongs here.`))
  }
  const terms: Term[] = []
  let rest = plain
  while (rest !== '') {
    const found = TERM.exec(rest)
    if (!found) return failed(unreadable(asked))
    const term = termOf(found, asked)
    if (!term.ok) return term
    terms.push(term.value)
    rest = rest
      .slice(found[0].length)
      .replace(/^\s*-?\s*/, (gap) => (gap.includes('-') && term.value.unit === null ? gap : ''))
  }
  return ok(terms)
}

function termOf(found: RegExpExecArray, asked: string): Result<Term> {
  const [, whole, mixedTop, mixedBottom, top, bottom, beforeMark, mark, afterMark, integer, word, sign] = found
  const spelled = word ?? sign
  const unit = spelled === undefined ? null : UNIT_SPELLINGS.get(spelled)
  if (unit === undefined) {
    return failed(
      problem('length-unit', `“${spelled}” in “${asked}” is not a unit of length: use in, ft, mm, cm or m.`),
    )
  }
  if (whole !== undefined || top !== undefined) {
    const above = Number(mixedTop ?? top)
    const below = Number(mixedBottom ?? bottom)
    if (below === 0) return failed(problem('length-fraction', `The fraction in “${asked}” divides by nothing.`))
    if (whole !== undefined && above >= below) {
      const meant = `${Number(whole)} ${above}/${below}`
      return failed(problem('length-fraction', `The fraction of ${meant} is one or more: check “${asked}”.`))
    }
    return ok({ top: Number(whole ?? 0) * below + above, bottom: below, fractional: true, unit })
  }
  if (integer !== undefined) return ok({ top: Number(integer), bottom: 1, fractional: false, unit })
  const decimals = afterMark ?? ''
  if (mark === ',' && decimals.length === 3 && beforeMark !== '' && beforeMark !== '0') {
    const [thousands, decimal] = [`${beforeMark}${decimals}`, `${beforeMark}.${decimals}`]
    return failed(problem('length-comma', `“${asked}” may mean ${thousands} or ${decimal}: write one of these.`))
  }
  const digits = decimals.slice(0, 9)
  return ok({ top: Number(`${beforeMark ?? ''}${digits}`), bottom: 10 ** digits.length, fractional: false, unit })
}

function addTerms(terms: readonly Term[], asked: string, defaultUnits: LengthUnits): Result<LengthNm> {
  let totalNm = 0
  let previous: UnitName | null = null
  for (const term of terms) {
    const unit: UnitName | null = term.unit ?? impliedUnit(previous, terms.length, defaultUnits)
    if (unit === null) return failed(unreadable(asked))
    if (term.unit === null && unit === 'mm' && term.fractional) {
      return failed(
        problem(
          'length-fraction-unit',
          `“${asked}” is a fraction without a unit: add in for inches, or write decimals.`,
        ),
      )
    }
    if (previous !== null && !mayFollow(previous, unit)) return failed(unreadable(asked))
    totalNm += (term.top * UNIT_NM[unit]) / term.bottom
    previous = unit
  }
  if (totalNm > LONGEST_NM) {
    return failed(problem('length-too-long', `“${asked}” is over 100 m (328 ft): check the unit.`))
  }
  return ok(Math.round(totalNm))
}

const impliedUnit = (previous: UnitName | null, howMany: number, defaultUnits: LengthUnits): UnitName | null => {
  if (howMany === 1) return defaultUnits === 'inch' ? 'in' : 'mm'
  return previous === 'ft' ? 'in' : null
}

const mayFollow = (before: UnitName, after: UnitName): boolean =>
  before === 'ft'
    ? after === 'in'
    : before !== 'in' && after !== 'in' && after !== 'ft' && UNIT_NM[after] < UNIT_NM[before]

const unreadable = (asked: string): Problem =>
  problem(
    'length-unreadable',
    `“${asked}” is not a size I can read: write it like 18 3/4 in, 1' 6", 476 mm or 47.6 cm.`,
  )
