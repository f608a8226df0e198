import { NM_PER_INCH, NM_PER_MILLIMETRE } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { SpecInput, Units } from '../construction.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { readFormula } from './formula.ts'
import { makeConstruction } from './make-construction.ts'
import type { OwnField } from './own-construction.ts'
import { STANDARD_TIMES } from './own-form.ts'
import { formulaNames, numbersOf, type OwnSpec } from './own-values.ts'
import { readOwnFields } from './read-own-construction.ts'

/**
 * What each formula of a form comes to with what its questions begin with, in words, by its path: `parts.0.length` is `6 1/4"`,
 * `steps.2.minutes` is `34 min`. Formulas that cannot be reckoned yet are left out.
 */
export function formulaValues(input: SpecInput, facts: ShopFacts): ReadonlyMap<string, string> {
  const units: Units = input['units'] === 'millimetre' ? 'millimetre' : 'inch'
  const fields = readOwnFields(input, facts)
  const numbers = numbersAtStart(fields, units, facts)
  const names = formulaNames(fields)
  const values = new Map<string, string>()
  for (const [list, writers] of Object.entries(FORMULAS)) {
    for (const [index, row] of rowsOf(input[list]).entries()) {
      for (const [key, write] of Object.entries(writers)) {
        const text = row[key]
        const formula = typeof text === 'string' && text.trim() !== '' ? readFormula(text, names) : null
        const value = formula?.ok === true ? formula.value.evaluate(numbers) : null
        if (value?.ok === true) values.set(`${list}.${index}.${key}`, write(value.value, units, facts, row))
      }
    }
  }
  return values
}

type Write = (value: number, units: Units, facts: ShopFacts, row: Row) => string
type Row = { readonly [key: string]: string | boolean }

const size: Write = (value, units, facts) =>
  writeLength(Math.round(value * (units === 'inch' ? NM_PER_INCH : NM_PER_MILLIMETRE)), facts.units)
const count: Write = (value) => String(Math.round(value))
const upTo: Write = (value) => String(Math.ceil(value - 1e-9))
const minutes: Write = (value) => `${Math.round(value)} min`
/** Of a step that takes a standard time: how many of its units, and what that comes to. */
const handsOn: Write = (value, units, facts, row) => {
  const operation = row['standardTime']
  if (typeof operation !== 'string' || !STANDARD_TIMES.some((one) => one.value === operation) || operation === '')
    return minutes(value, units, facts, row)
  const { perUnitMin, setUpMin, family } = facts.standardTime(operation)
  const total = value * perUnitMin + (family === null ? setUpMin : 0)
  return `${Number(value.toFixed(2))} × ${Number(perUnitMin.toFixed(2))} min: ${Math.round(total)} min`
}
const there: Write = (value) => (value === 0 ? 'left out' : 'done')

/** How each formula of the form is said. */
const FORMULAS: Readonly<Record<string, Readonly<Record<string, Write>>>> = {
  parts: { quantity: count, length: size, width: size, thickness: size },
  steps: { minutes: handsOn, least: minutes, most: minutes, units: upTo, when: there, setUp: minutes },
}

/** Each question is read by itself, so that one that cannot be read does not take the others their values. */
function numbersAtStart(fields: readonly OwnField[], units: Units, facts: ShopFacts): ReadonlyMap<string, number> {
  const numbers = new Map<string, number>()
  for (const field of fields) {
    const own = { id: '', name: '', about: '', units, fields: [field], parts: [], steps: [] }
    const construction = makeConstruction(own)
    const spec = construction.read(construction.starting(units), units, facts)
    if (!spec.ok) continue
    for (const [key, value] of numbersOf(spec.value satisfies OwnSpec)) numbers.set(key, value)
  }
  return numbers
}

const rowsOf = (value: SpecInput[string] | undefined): readonly Row[] =>
  value === undefined || typeof value === 'string' || typeof value === 'boolean' ? [] : value
