import { STARTING_TIMES } from '../../almanac/standard-times.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { writeDuration } from '../../time/duration.ts'
import type { Field, SpecInput, Units } from '../construction.ts'
import { PIECE_USES } from '../design/piece-use.ts'
import { writeAfter } from '../free-list/row-order.ts'
import type { OwnConstruction, OwnField, OwnFieldKind, OwnStep, OwnStepWait } from './own-construction.ts'

/** Standard times that a step may take instead of minutes of its own, each for so many of its units. */
export const STANDARD_TIMES = [
  { value: '', label: 'Minutes of its own' },
  ...STARTING_TIMES.filter(({ operation, unit }) => unit !== 'minute' && operation !== 'spread-and-close').map(
    ({ operation, name, unit }) => ({ value: operation, label: `${name}, each ${unit}` }),
  ),
]

const ownMinutes = { key: 'standardTime', is: [''] } as const

/** The form in which a maker writes a construction down; the same kinds of fields as any other form. */
export const OWN_FORM: readonly Field[] = [
  { key: 'name', label: 'Name', hint: 'What it makes: Knife block', kind: 'text' },
  { key: 'about', label: 'What it is good for', kind: 'text' },
  {
    key: 'units',
    label: 'Sizes in formulas are',
    kind: 'choice',
    choices: [
      { value: 'inch', label: 'Inches' },
      { value: 'millimetre', label: 'Millimeters' },
    ],
  },
  { key: 'isFor', label: 'For food, or a child’s?', kind: 'choice', choices: PIECE_USES },
  {
    key: 'fields',
    label: 'What is asked',
    kind: 'rows',
    columns: [
      { key: 'label', label: 'Question', hint: 'Width of the block', kind: 'text' },
      { key: 'key', label: 'In formulas', hint: 'width', kind: 'text' },
      { key: 'kind', label: 'Kind', kind: 'choice', choices: fieldKinds() },
      { key: 'start', label: 'Begins with', kind: 'text' },
      { key: 'least', label: 'At least', kind: 'text', when: { key: 'kind', is: ['length', 'count'] } },
      { key: 'most', label: 'At most', kind: 'text', when: { key: 'kind', is: ['length', 'count'] } },
      {
        key: 'choices',
        label: 'To choose from',
        hint: 'plain, striped; in formulas the first is 1, the second 2',
        kind: 'text',
        when: { key: 'kind', is: ['choice'] },
      },
    ],
  },
  {
    key: 'parts',
    label: 'Parts',
    kind: 'rows',
    columns: [
      { key: 'name', label: 'Part', kind: 'text' },
      { key: 'wood', label: 'Wood, by its name in formulas', kind: 'text' },
      { key: 'quantity', label: 'How many', hint: 'Formula', kind: 'text' },
      { key: 'length', label: 'Length', hint: 'Formula', kind: 'text' },
      { key: 'width', label: 'Width', hint: 'Formula', kind: 'text' },
      { key: 'thickness', label: 'Thickness', hint: 'Formula', kind: 'text' },
    ],
  },
  {
    key: 'steps',
    label: 'Steps',
    kind: 'rows',
    columns: [
      { key: 'name', label: 'Step', kind: 'text' },
      {
        key: 'kind',
        label: 'Kind',
        kind: 'choice',
        choices: [
          { value: 'machine', label: 'Machine' },
          { value: 'hand', label: 'By hand' },
          { value: 'glue-up', label: 'Glue-up' },
          { value: 'coat', label: 'Coat' },
        ],
      },
      { key: 'minutes', label: 'Minutes', hint: 'Formula, for one piece: 10 + 2 * strips', kind: 'text' },
      { key: 'standardTime', label: 'Takes the time of', kind: 'choice', choices: STANDARD_TIMES },
      {
        key: 'least',
        label: 'At least',
        hint: 'Minutes as a formula; empty: as usual',
        kind: 'text',
        when: ownMinutes,
      },
      { key: 'most', label: 'At most', hint: 'Minutes as a formula; empty: as usual', kind: 'text', when: ownMinutes },
      { key: 'wait', label: 'Wait after it', hint: '24 h; or the name of a glue or finish; empty: none', kind: 'text' },
      { key: 'atMost', label: 'Next within', hint: 'Empty: no limit', kind: 'text' },
      { key: 'after', label: 'After rows', hint: '1, 2; empty: the row above; 0: nothing', kind: 'text' },
      { key: 'dusty', label: 'Raises dust', kind: 'yes-no' },
      {
        key: 'units',
        label: 'Clamps or places',
        hint: 'Formula; empty: none for work, 1 place for a coat',
        kind: 'text',
      },
      { key: 'when', label: 'Only when', hint: 'Formula: lid; empty: always', kind: 'text' },
      {
        key: 'stops',
        label: 'At closing time',
        kind: 'choice',
        choices: [
          { value: 'usual', label: 'As usual for its kind' },
          { value: 'may-stop', label: 'May be left half done' },
          { value: 'one-go', label: 'Must be done in one go' },
        ],
      },
      {
        key: 'takes',
        label: 'It takes',
        kind: 'choice',
        choices: [
          { value: 'usual', label: 'As usual for its kind' },
          { value: 'clamps', label: 'Clamps' },
          { value: 'rack', label: 'Places on the rack' },
          { value: 'glueUpBench', label: 'The glue-up bench' },
          { value: 'finishingCorner', label: 'The finishing corner' },
        ],
      },
      {
        key: 'until',
        label: 'Takes it until',
        kind: 'choice',
        choices: [
          { value: 'usual', label: 'As usual for its kind' },
          { value: 'end', label: 'The step is done' },
          { value: 'next', label: 'The next step starts' },
        ],
      },
      { key: 'family', label: 'Machine setup', hint: 'drum-sander; steps of one name share it', kind: 'text' },
      { key: 'setUp', label: 'Setup minutes', hint: 'Formula', kind: 'text' },
    ],
  },
]

function fieldKinds(): readonly { readonly value: OwnFieldKind; readonly label: string }[] {
  return [
    { value: 'length', label: 'Size' },
    { value: 'count', label: 'Number' },
    { value: 'yes-no', label: 'Yes or no' },
    { value: 'choice', label: 'Choice' },
    { value: 'wood', label: 'Wood' },
    { value: 'glue', label: 'Glue' },
    { value: 'finish', label: 'Finish' },
  ]
}

/** A small example to change, so that nobody begins with an empty page. */
export const startingOwnConstruction = (units: Units): SpecInput => {
  const size = (inch: string, millimetre: string): string => (units === 'inch' ? inch : millimetre)
  return {
    name: '',
    about: '',
    units,
    isFor: '',
    fields: [
      fieldText({ key: 'length', label: 'Length', kind: 'length', start: size('12', '300') }),
      fieldText({ key: 'width', label: 'Width', kind: 'length', start: size('8', '200') }),
      fieldText({ key: 'wood', label: 'Wood', kind: 'wood', start: 'walnut' }),
      fieldText({ key: 'glue', label: 'Glue', kind: 'glue', start: 'pva_type2' }),
      fieldText({ key: 'finish', label: 'Finish', kind: 'finish', start: 'wiping_oil_varnish' }),
    ],
    parts: [
      {
        name: 'Strip',
        wood: 'wood',
        quantity: size('ceil(width / 2)', 'ceil(width / 50)'),
        length: size('length + 1', 'length + 25'),
        width: size('2', '50'),
        thickness: size('1', '25'),
      },
    ],
    steps: [
      stepText({
        name: 'Mill and rip',
        kind: 'machine',
        minutes: size('20 + ceil(width / 2) * 3', '20 + ceil(width / 50) * 3'),
        dusty: true,
      }),
      stepText({ name: 'Glue-up', kind: 'glue-up', minutes: '30', wait: 'glue', units: '4' }),
      stepText({ name: 'Flatten and sand', kind: 'machine', minutes: '45', dusty: true }),
      stepText({ name: 'First coat', kind: 'coat', minutes: '15', wait: 'finish' }),
      stepText({ name: 'Second coat', kind: 'coat', minutes: '15', wait: 'finish' }),
    ],
  }
}

/** The inverse of reading: the form of a construction that is stored. */
export const writeOwnConstruction = (own: OwnConstruction): SpecInput => ({
  name: own.name,
  about: own.about,
  units: own.units,
  isFor: own.isFor ?? '',
  fields: own.fields.map((field) => writeField(field, own.units)),
  parts: own.parts.map((part) => ({ ...part })),
  steps: own.steps.map((step, index) => writeStep(step, index)),
})

function writeField(field: OwnField, units: Units): Row {
  const { key, label, kind, start, choices } = field
  const limit = (value: number | null): string =>
    value === null ? '' : kind === 'length' ? writeLength(value, units) : String(value)
  const [least, most] = [limit(field.least), limit(field.most)]
  return fieldText({ key, label, kind, start, least, most, choices: choices.join(', ') })
}

function writeStep(step: OwnStep, index: number): Row {
  return stepText({
    name: step.name,
    kind: step.kind,
    minutes: step.minutes,
    standardTime: step.standardTime ?? '',
    least: step.least ?? '',
    most: step.most ?? '',
    wait: writeWait(step.wait),
    atMost: step.atMostMin === null ? '' : writeDuration(step.atMostMin),
    after: writeAfter(step.after, index),
    dusty: step.dusty,
    units: step.units === unitsOf(step.kind) ? '' : step.units,
    when: step.when,
    stops: step.stops,
    takes: step.takes,
    until: step.until,
    family: step.setUp?.family ?? '',
    setUp: step.setUp?.minutes ?? '',
  })
}

/** What a step takes where nothing is said: a coat one place, everything else nothing. */
export const unitsOf = (kind: OwnStep['kind']): string => (kind === 'coat' ? '1' : '0')

function writeWait(wait: OwnStepWait): string {
  if (wait.kind === 'none') return ''
  return wait.kind === 'minutes' ? writeDuration(wait.minutes) : wait.field
}

type Row = { readonly [key: string]: string | boolean }

/** A question as it is added. */
export const emptyField: Row = {
  key: '',
  label: '',
  kind: 'length',
  start: '',
  least: '',
  most: '',
  choices: '',
}

/** A part as it is added. */
export const emptyPart: Row = { name: '', wood: '', quantity: '', length: '', width: '', thickness: '' }

const fieldText = (field: Row): Row => ({ ...emptyField, ...field })

/** A row of the steps as it is added. */
export const emptyStep: Row = {
  name: '',
  kind: 'hand',
  minutes: '',
  standardTime: '',
  least: '',
  most: '',
  wait: '',
  atMost: '',
  after: '',
  dusty: false,
  units: '',
  when: '',
  stops: 'usual',
  takes: 'usual',
  until: 'usual',
  family: '',
  setUp: '',
}

const stepText = (step: Row): Row => ({ ...emptyStep, ...step })
