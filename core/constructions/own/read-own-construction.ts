import { readLength } from '../../lengths/read-length.ts'
import { failed, ok, type Problem, type Result } from '../../problems.ts'
import { readDuration } from '../../time/duration.ts'
import type { SpecInput, Units } from '../construction.ts'
import { keptUse } from '../design/piece-use.ts'
import { specReader, type SpecReader } from '../design/spec-reader.ts'
import type { FreeKind } from '../free-list/free-list-spec.ts'
import { circlesOf, readAfter } from '../free-list/row-order.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { FORMULA_WORDS, readFormula } from './formula.ts'
import { makeConstruction } from './make-construction.ts'
import type { OwnConstruction, OwnField, OwnFieldKind, OwnPart, OwnStep, OwnStepWait } from './own-construction.ts'
import { OWN_FORM, unitsOf } from './own-form.ts'
import { formulaNames } from './own-values.ts'

/**
 * Checks what was written into `OWN_FORM`: names, formulas, rows that come after each other, and that one piece can be built with
 * what the form begins with.
 * @param id of the construction that is changed; empty for a new one
 * @param others constructions of the maker's own that are there already
 */
export function readOwnConstruction(
  input: SpecInput,
  id: string,
  others: readonly OwnConstruction[],
  facts: ShopFacts,
): Result<OwnConstruction> {
  const form = specReader(OWN_FORM, input, facts.units, facts)
  const name = form.text('name')
  if (name === '') form.refuse('name-missing', 'Name: say what it makes.', 'name')
  if (others.some((one) => one.id !== id && one.name.toLowerCase() === name.toLowerCase())) {
    form.refuse('name-twice', `Name: there is a “${name}” already, use another name.`, 'name')
  }
  const units = form.choice<Units>('units')
  const fields = readFields(form.rows('fields'), units)
  const names = formulaNames(fields)
  const steps = readSteps(form, fields, names)
  const own: OwnConstruction = {
    id: id === '' ? newId(name, others) : id,
    name,
    about: form.text('about') === '' ? `${name}.` : form.text('about'),
    units,
    ...keptUse(form.choice('isFor')),
    fields,
    parts: readParts(form.rows('parts'), fields, names),
    steps,
  }
  const read = form.result(own)
  return read.ok ? tried(own, facts) : read
}

/** The questions of a form as far as they make sense, whatever else is wrong with it. */
export function readOwnFields(input: SpecInput, facts: ShopFacts): OwnField[] {
  const form = specReader(OWN_FORM, input, facts.units, facts)
  return readFields(form.rows('fields'), form.choice<Units>('units'))
}

function readFields(rows: readonly SpecReader[], units: Units): OwnField[] {
  const seen = new Set<string>()
  return rows.map((row, index) => {
    const key = row.text('key')
    const where = `Question ${index + 1}`
    if (!/^[A-Za-z][A-Za-z0-9_]{0,29}$/.test(key)) {
      row.refuse(
        'key',
        `${where}: its name in formulas is a letter with letters or digits after it, such as width or leg2.`,
        'key',
      )
    } else if (FORMULA_WORDS.has(key)) {
      row.refuse('key', `${where}: “${key}” has a meaning in formulas already, use another name.`, 'key')
    } else if (seen.has(key)) {
      row.refuse('key', `${where}: “${key}” is used twice, use another name.`, 'key')
    }
    seen.add(key)
    const label = row.text('label')
    if (label === '') row.refuse('label', `${where}: type the question that is asked.`, 'label')
    const kind = row.choice<OwnFieldKind>('kind')
    const choices = kind === 'choice' ? readChoices(row, where) : []
    const [least, most] = [readLimit(row, where, 'least', kind, units), readLimit(row, where, 'most', kind, units)]
    if (least !== null && most !== null && least > most)
      row.refuse('limits', `${where}: its least is more than its most. Change one of them.`, 'most')
    return { key, label, kind, start: row.text('start') || (choices[0] ?? ''), least, most, choices }
  })
}

/** What there is to choose from, parted by commas. */
function readChoices(row: SpecReader, where: string): string[] {
  const choices = row
    .text('choices')
    .split(',')
    .map((one) => one.trim())
    .filter((one) => one !== '')
  if (new Set(choices).size < choices.length)
    row.refuse('choices', `${where}: the same choice stands there twice, take one out.`, 'choices')
  if (choices.length < 2)
    row.refuse(
      'choices',
      `${where}: type at least two to choose from, with a comma between: plain, striped.`,
      'choices',
    )
  return choices
}

/** Null where nothing is said, or where the kind of question has no limits. */
function readLimit(
  row: SpecReader,
  where: string,
  key: 'least' | 'most',
  kind: OwnFieldKind,
  units: Units,
): number | null {
  const text = row.text(key)
  if (text === '' || (kind !== 'length' && kind !== 'count')) return null
  if (kind === 'count') {
    if (/^\d{1,4}$/.test(text)) return Number(text)
    row.refuse('limits', `${where}: “${text}” is not a whole number up to 9999.`, key)
    return null
  }
  const read = readLength(text, units)
  if (read.ok) return read.value
  for (const one of read.problems) row.refuse(one.code, `${where}: ${one.message}`, key)
  return null
}

function readParts(rows: readonly SpecReader[], fields: readonly OwnField[], names: ReadonlySet<string>): OwnPart[] {
  return rows.map((row, index) => {
    const name = row.text('name')
    const where = name === '' ? `Part ${index + 1}` : `Part ${index + 1}, ${name}`
    if (name === '') row.refuse('part-name', `${where}: give it a name.`, 'name')
    const wood = row.text('wood')
    if (!fields.some((field) => field.kind === 'wood' && field.key === wood)) {
      row.refuse(
        'part-wood',
        `${where}: “${wood}” is not a question for a wood; type the name in formulas of one.`,
        'wood',
      )
    }
    const formula = (key: string): string => readFormulaText(row, where, key, names)
    return {
      name,
      wood,
      quantity: formula('quantity'),
      length: formula('length'),
      width: formula('width'),
      thickness: formula('thickness'),
    }
  })
}

function readSteps(form: SpecReader, fields: readonly OwnField[], names: ReadonlySet<string>): OwnStep[] {
  const rows = form.rows('steps')
  if (rows.length === 0) form.refuse('steps-missing', 'Steps: write down at least one.', 'steps')
  const steps = rows.map((row, index) => readStep(row, index, rows.length, fields, names))
  for (const one of circlesOf(steps))
    form.refuse(one.code, one.message, (one.field ?? 'rows').replace(/^rows/, 'steps'))
  return steps
}

function readStep(
  row: SpecReader,
  index: number,
  rows: number,
  fields: readonly OwnField[],
  names: ReadonlySet<string>,
): OwnStep {
  const name = row.text('name')
  const where = name === '' ? `Row ${index + 1}` : `Row ${index + 1}, ${name}`
  if (name === '') row.refuse('row-name', `${where}: say what is done, or take the row out.`, 'name')
  const kind = row.choice<FreeKind>('kind')
  const units = row.text('units')
  return {
    name,
    kind,
    minutes: readFormulaText(row, where, 'minutes', names),
    ...readStandardTime(row, where, names),
    wait: readWait(row, where, kind, fields),
    atMostMin: row.text('atMost') === '' ? null : readTime(row, where, 'atMost'),
    after: readAfter(row, where, index, rows),
    dusty: row.yes('dusty'),
    units: units === '' ? unitsOf(kind) : readFormulaText(row, where, 'units', names),
    when: row.text('when') === '' ? '' : readFormulaText(row, where, 'when', names),
    stops: row.choice<OwnStep['stops']>('stops'),
    takes: row.choice<OwnStep['takes']>('takes'),
    until: row.choice<OwnStep['until']>('until'),
    setUp: readSetUp(row, where, names),
  }
}

/** A standard time brings its own spread; minutes of the step's own may have theirs. */
function readStandardTime(
  row: SpecReader,
  where: string,
  names: ReadonlySet<string>,
): Pick<OwnStep, 'standardTime' | 'least' | 'most'> {
  const standardTime = row.choice<string>('standardTime')
  if (standardTime !== '') return { standardTime }
  const formula = (key: 'least' | 'most'): Partial<Pick<OwnStep, 'least' | 'most'>> =>
    row.text(key) === '' ? {} : { [key]: readFormulaText(row, where, key, names) }
  return { ...formula('least'), ...formula('most') }
}

function readSetUp(row: SpecReader, where: string, names: ReadonlySet<string>): OwnStep['setUp'] {
  const [family, minutes] = [row.text('family'), row.text('setUp')]
  if (family === '' && minutes === '') return null
  if (family === '')
    row.refuse('set-up', `${where}: name the setup, such as drum-sander; steps of one name share it.`, 'family')
  return { family, minutes: readFormulaText(row, where, 'setUp', names) }
}

function readFormulaText(row: SpecReader, where: string, key: string, names: ReadonlySet<string>): string {
  const formula = readFormula(row.text(key), names)
  if (formula.ok) return formula.value.text
  for (const one of formula.problems) row.refuse(one.code, `${where}: ${one.message}`, key)
  return ''
}

function readWait(row: SpecReader, where: string, kind: FreeKind, fields: readonly OwnField[]): OwnStepWait {
  const text = row.text('wait')
  if (text === '') return { kind: 'none' }
  const field = fields.find((one) => one.key === text && (one.kind === 'glue' || one.kind === 'finish'))
  if (field === undefined) return { kind: 'minutes', minutes: readTime(row, where, 'wait') }
  const fits = (field.kind === 'glue' && kind === 'glue-up') || (field.kind === 'finish' && kind === 'coat')
  if (!fits)
    row.refuse(
      'row-wait',
      `${where}: a glue sets after a glue-up, a finish dries after a coat. Change the kind of the row, or type a time.`,
      'wait',
    )
  return { kind: 'product', field: field.key }
}

function readTime(row: SpecReader, where: string, key: string): number {
  const duration = readDuration(row.text(key), 'h')
  if (duration.ok) return duration.value
  for (const one of duration.problems) row.refuse(one.code, `${where}: ${one.message}`, key)
  return NaN
}

/** One piece as the form begins: whatever stands in the way is told now, not at the first customer. */
function tried(own: OwnConstruction, facts: ShopFacts): Result<OwnConstruction> {
  const construction = makeConstruction(own)
  const spec = construction.read(construction.starting(own.units), own.units, facts)
  if (!spec.ok) return failed(...spec.problems.map((one) => atStart(own, one)))
  const build = construction.build(spec.value, 1, facts)
  if (build.ok) return ok(own)
  // How many clamps this shop has today is no fault of the construction.
  const faults = build.problems.filter((one) => one.code !== 'row-too-big' && one.code !== 'lot-too-big')
  return faults.length === 0 ? ok(own) : failed(...faults)
}

function atStart(own: OwnConstruction, one: Problem): Problem {
  const index = own.fields.findIndex((field) => field.key === one.field)
  return index === -1 ? one : { ...one, field: `fields.${index}.start` }
}

function newId(name: string, others: readonly OwnConstruction[]): string {
  const base = `own-${
    name
      .toLowerCase()
      .normalize('NFD')
      .replaceAll(/\p{M}/gu, '')
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-|-$/g, '') || 'construction'
  }`
  for (let number = 1; ; number += 1) {
    const id = number === 1 ? base : `${base}-${number}`
    if (!others.some((one) => one.id === id)) return id
  }
}
