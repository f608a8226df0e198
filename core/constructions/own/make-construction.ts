import { NM_PER_INCH, NM_PER_METRE, NM_PER_MILLIMETRE } from '../../lengths/length.ts'
import { readLength } from '../../lengths/read-length.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
import { failed, ok, problem, within, type Problem, type Result } from '../../problems.ts'
import type { Build, Construction, Fact, Field, Part, SpecInput, Units } from '../construction.ts'
import { LIMITS } from '../limits.ts'
import type { Drawing } from '../drawing.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import { nameOf } from '../design/products.ts'
import { specReader, type SpecReader } from '../design/spec-reader.ts'
import { weightFacts } from '../design/weight.ts'
import { rowNetwork } from '../free-list/free-list-steps.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { readFormula } from './formula.ts'
import type { OwnConstruction, OwnField, OwnPart } from './own-construction.ts'
import { drawParts } from './own-drawing.ts'
import { ownRows } from './own-rows.ts'
import { formulaNames, numbersOf, type OwnSpec } from './own-values.ts'

/** A construction that works like the built-in ones, out of what the maker wrote down. */
export const makeConstruction = (own: OwnConstruction): Construction<OwnSpec> => ({
  id: own.id,
  name: own.name,
  about: own.about,
  fields: own.fields.map(fieldOf),
  starting: (units) => Object.fromEntries(own.fields.map((field) => [field.key, startOf(own, field, units)])),
  read: (input, units, facts) => read(own, input, units, facts),
  write,
  build,
  draw,
})

function fieldOf({ key, label, kind, least, most, choices }: OwnField): Field {
  switch (kind) {
    case 'length':
      return { key, label, kind, leastNm: least ?? NM_PER_MILLIMETRE, mostNm: most ?? 10 * NM_PER_METRE }
    case 'count':
      return { key, label, kind, least: least ?? 0, most: most ?? 9999 }
    case 'choice':
      return { key, label, kind, choices: choices.map((one) => ({ value: one, label: one })) }
    case 'yes-no':
    case 'wood':
    case 'glue':
    case 'finish':
      return { key, label, kind }
  }
}

function read(own: OwnConstruction, input: SpecInput, units: Units, facts: ShopFacts): Result<OwnSpec> {
  const form = specReader(own.fields.map(fieldOf), input, units, facts)
  return form.result({ own, values: Object.fromEntries(own.fields.map((field) => [field.key, valueOf(form, field)])) })
}

/** What its form begins with: sizes are written down in the construction's own units and shown in the shop's. */
function startOf(own: OwnConstruction, { kind, start }: OwnField, units: Units): string | boolean {
  if (kind === 'yes-no') return start.toLowerCase() === 'yes'
  const size = kind === 'length' ? readLength(start, own.units) : null
  return size?.ok === true ? writeLength(size.value, units) : start
}

function valueOf(form: SpecReader, { key, kind }: OwnField): number | boolean | string {
  switch (kind) {
    case 'length':
      return form.length(key)
    case 'count':
      return form.count(key)
    case 'yes-no':
      return form.yes(key)
    case 'choice':
      return form.choice(key)
    case 'wood':
      return form.wood(key)
    case 'glue':
      return form.glue(key)
    case 'finish':
      return form.finish(key)
  }
}

function write({ own, values }: OwnSpec, units: Units): SpecInput {
  return Object.fromEntries(
    own.fields.map(({ key, kind }) => {
      const value = values[key] ?? ''
      if (kind === 'length') return [key, writeLength(Number(value), units)]
      return [key, kind === 'yes-no' ? value === true : String(value)]
    }),
  )
}

function build(spec: OwnSpec, count: number, facts: ShopFacts): Result<Build> {
  const numbers = numbersOf(spec)
  const parts = partsOf(spec, numbers, count)
  const rows = ownRows(spec, numbers, facts)
  if (!parts.ok || !rows.ok) return failed(...(parts.ok ? [] : parts.problems), ...(rows.ok ? [] : rows.problems))
  const woods = [...new Set(parts.value.map((part) => part.wood))].map((wood) => nameOf(facts.woods, wood))
  const network = rowNetwork(
    rows.value,
    count,
    facts,
    pieceFactsOf(parts.value, count, spec.own.isFor ?? 'other', facts),
  )
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: titleOf(spec, woods, facts),
    geometry: weightFactsOf(parts.value, count, facts),
    parts: parts.value,
    steps: network.steps,
    lags: network.lags,
    warnings: network.warnings,
  })
}

function draw(spec: OwnSpec, facts: ShopFacts): Drawing | null {
  const parts = partsOf(spec, numbersOf(spec), 1)
  return parts.ok ? drawParts(parts.value, facts) : null
}

const weightFactsOf = (parts: readonly Part[], count: number, facts: ShopFacts): Fact[] =>
  parts.length === 0 ? [] : weightFacts(parts, count, facts)

function partsOf(spec: OwnSpec, numbers: ReadonlyMap<string, number>, count: number): Result<Part[]> {
  const { own } = spec
  const names = formulaNames(own.fields)
  const problems: Problem[] = []
  const reckon = (text: string, field: string): number => {
    const formula = readFormula(text, names)
    const value = formula.ok ? formula.value.evaluate(numbers) : formula
    if (value.ok) return value.value
    problems.push(...value.problems.map((one) => within(field, one)))
    return NaN
  }
  const parts = own.parts.flatMap((part, index) => {
    const at = `parts.${index}`
    const quantity = Math.round(reckon(part.quantity, `${at}.quantity`))
    const sizes = (['length', 'width', 'thickness'] as const).map((side) => reckon(part[side], `${at}.${side}`))
    if (problems.length > 0 || quantity === 0) return []
    if (quantity < 0 || sizes.some((size) => size <= 0)) {
      problems.push(
        problem(
          'part-size',
          `${part.name}: with these sizes it would be ${sizes.map((size) => Number(size.toFixed(3))).join(' x ')}, ${quantity} of them. Change the sizes or its formulas.`,
          at,
        ),
      )
      return []
    }
    if (!(quantity <= LIMITS.partsOfOneKind)) {
      problems.push(
        problem(
          'too-many-parts',
          `${part.name}: its formula gives ${quantity} for one piece; the most is ${LIMITS.partsOfOneKind}. Change the sizes or the formula.`,
          `${at}.quantity`,
        ),
      )
      return []
    }
    return [partOf(part, spec, quantity * count, sizes)]
  })
  return problems.length > 0 ? failed(...problems) : ok(parts)
}

function partOf(part: OwnPart, { own, values }: OwnSpec, quantity: number, sizes: readonly number[]): Part {
  const unitNm = own.units === 'inch' ? NM_PER_INCH : NM_PER_MILLIMETRE
  const [lengthNm = 0, widthNm = 0, thicknessNm = 0] = sizes.map((size) => Math.max(1, Math.round(size * unitNm)))
  const size = { lengthNm, widthNm, thicknessNm }
  return {
    name: part.name,
    wood: String(values[part.wood] ?? ''),
    quantity,
    rough: size,
    finished: size,
    why: `By the construction’s formulas: ${part.length} by ${part.width} by ${part.thickness}, in ${own.units === 'inch' ? 'inches' : 'millimetres'}.`,
  }
}

/** Its name with the sizes that were asked for and the woods. */
function titleOf({ own, values }: OwnSpec, woods: readonly string[], facts: ShopFacts): string {
  const sizes = own.fields
    .filter(({ kind }) => kind === 'length')
    .slice(0, 3)
    .map(({ key }) => Number(values[key]))
  const size = sizes.length === 0 ? '' : ` ${writeSizes(sizes, facts.units)}`
  return `${own.name}${size}${woods.length === 0 ? '' : `, ${woods.map((wood) => wood.toLowerCase()).join(' and ')}`}`
}
