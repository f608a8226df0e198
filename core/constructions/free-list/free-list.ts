import { failed, ok, type Result } from '../../problems.ts'
import { readDuration, writeDuration } from '../../time/duration.ts'
import type { Build, Construction, Field, SpecInput, SpecValue, Units } from '../construction.ts'
import { keptUse, PIECE_USES } from '../design/piece-use.ts'
import type { FreeKind, FreeListSpec, FreeRow } from './free-list-spec.ts'
import { freeNetwork } from './free-list-steps.ts'
import { circlesOf, readAfter, writeAfter } from './row-order.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { specReader, type SpecReader } from '../design/spec-reader.ts'

const KINDS = [
  { value: 'machine', label: 'Machine' },
  { value: 'hand', label: 'By hand' },
  { value: 'glue-up', label: 'Glue-up' },
  { value: 'coat', label: 'Coat' },
] as const

const COLUMNS: readonly Field[] = [
  { key: 'name', label: 'Step', kind: 'text' },
  { key: 'minutes', label: 'Hands-on', hint: '30 min, for one piece', kind: 'text' },
  { key: 'kind', label: 'Kind', kind: 'choice', choices: KINDS },
  { key: 'wait', label: 'Wait after it', hint: '24 h, 3 d; empty: none', kind: 'text' },
  { key: 'atMost', label: 'Next within', hint: 'Empty: no limit', kind: 'text' },
  { key: 'after', label: 'After rows', hint: '1, 2; empty: the row above; 0: nothing', kind: 'text' },
  { key: 'dusty', label: 'Raises dust', kind: 'yes-no' },
  {
    key: 'units',
    label: 'Clamps or places',
    hint: 'Empty: none for work, 1 place for a coat',
    kind: 'count',
    least: 0,
    most: 500,
    optional: true,
  },
]

const FIELDS: readonly Field[] = [
  { key: 'title', label: 'What it is', hint: 'Enough to know it by on the rack', kind: 'text' },
  { key: 'isFor', label: 'For food, or a child’s?', kind: 'choice', choices: PIECE_USES },
  { key: 'rows', label: 'Steps', kind: 'rows', columns: COLUMNS },
]

export const freeList: Construction<FreeListSpec> = {
  id: 'free-list',
  name: 'Your own steps',
  about: 'Steps by hand, with their times and waits: for whatever no other construction fits.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw: () => null,
}

/** A row as it is typed, with nothing said but this. */
export const rowText = (
  row: Partial<Record<string, string | boolean>>,
): { readonly [key: string]: string | boolean } => ({
  name: '',
  minutes: '',
  kind: 'hand',
  wait: '',
  atMost: '',
  after: '',
  dusty: false,
  units: '',
  ...row,
})

function starting(): SpecInput {
  return {
    title: '',
    isFor: '',
    rows: [
      rowText({ name: 'Prepare the parts', minutes: '60 min', kind: 'machine', dusty: true }),
      rowText({ name: 'Glue-up', minutes: '30 min', kind: 'glue-up', wait: '24 h', units: '4' }),
      rowText({ name: 'Sand', minutes: '45 min', dusty: true }),
      rowText({ name: 'First coat', minutes: '15 min', kind: 'coat', wait: '24 h', units: '1' }),
      rowText({ name: 'Second coat', minutes: '15 min', kind: 'coat', wait: '24 h', units: '1' }),
      rowText({ name: 'Inspect and pack', minutes: '15 min' }),
    ],
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<FreeListSpec> {
  const form = specReader(FIELDS, input, units, facts)
  const title = form.text('title')
  if (title === '') form.refuse('title-missing', 'What it is: give it a name to know it by on the rack.', 'title')
  const forms = form.rows('rows')
  if (forms.length === 0) form.refuse('rows-missing', 'Steps: write down at least one.', 'rows')
  const rows = forms.map((row, index) => readRow(row, index, forms.length))
  for (const one of circlesOf(rows)) form.refuse(one.code, one.message, one.field ?? 'rows')
  return form.result({ title, rows, ...keptUse(form.choice('isFor')) })
}

function readRow(form: SpecReader, index: number, rows: number): FreeRow {
  const name = form.text('name')
  const where = name === '' ? `Row ${index + 1}` : `Row ${index + 1}, ${name}`
  if (name === '') form.refuse('row-name', `${where}: say what is done, or take the row out.`, 'name')
  const kind = form.choice<FreeKind>('kind')
  const minutes = timeOf(form, where, 'minutes', 'min') ?? missing(form, where, 'minutes')
  if (minutes === 0)
    form.refuse('row-minutes', `${where}: hands-on time of nothing. Give it a minute, or take the row out.`, 'minutes')
  if (minutes > LONGEST_HANDS_ON_MIN) {
    form.refuse(
      'row-minutes',
      `${where}: ${writeDuration(minutes)} hands-on is more than three months of evenings. Split it, or check the unit.`,
      'minutes',
    )
  }
  const waitMin = timeOf(form, where, 'wait', 'h') ?? 0
  const atMostMin = timeOf(form, where, 'atMost', 'h')
  if (atMostMin !== null && atMostMin < waitMin) {
    const message = `${where}: the next must start within ${writeDuration(atMostMin)}, but the wait is ${writeDuration(waitMin)}. Make the limit longer or the wait shorter.`
    form.refuse('row-window', message, 'atMost')
  }
  const units = form.optionalCount('units') ?? (kind === 'coat' ? 1 : 0)
  return {
    name,
    minutes,
    kind,
    waitMin,
    atMostMin,
    after: readAfter(form, where, index, rows),
    dusty: form.yes('dusty'),
    units,
  }
}

const LONGEST_HANDS_ON_MIN = 200 * 60

function timeOf(form: SpecReader, where: string, key: string, unit: 'min' | 'h'): number | null {
  const text = form.text(key)
  if (text === '') return null
  const duration = readDuration(text, unit)
  if (duration.ok) return duration.value
  for (const one of duration.problems) form.refuse(one.code, `${where}: ${one.message}`, key)
  return NaN
}

function missing(form: SpecReader, where: string, key: string): number {
  form.refuse('row-minutes', `${where}: how long is somebody at it? Type a time, such as 30 min.`, key)
  return NaN
}

function write(spec: FreeListSpec): SpecInput {
  const rows: SpecValue = spec.rows.map((row, index) =>
    rowText({
      name: row.name,
      minutes: writeDuration(row.minutes),
      kind: row.kind,
      wait: row.waitMin === 0 ? '' : writeDuration(row.waitMin),
      atMost: row.atMostMin === null ? '' : writeDuration(row.atMostMin),
      after: writeAfter(row.after, index),
      dusty: row.dusty,
      units: row.units === 0 ? '0' : String(row.units),
    }),
  )
  return { title: spec.title, isFor: spec.isFor ?? '', rows }
}

function build(spec: FreeListSpec, count: number, facts: ShopFacts): Result<Build> {
  const network = freeNetwork(spec, count, facts)
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: spec.title,
    geometry: [],
    parts: [],
    steps: network.steps,
    lags: network.lags,
    warnings: network.warnings,
  })
}
