import type { Field, SpecInput, Units } from '../construction.ts'
import { writeAfter } from '../free-list/row-order.ts'
import { writeDuration } from '../../time/duration.ts'
import type { OwnConstruction, OwnFieldKind, OwnStep, OwnWait } from './own-construction.ts'

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
      { value: 'millimetre', label: 'Millimetres' },
    ],
  },
  {
    key: 'fields',
    label: 'What is asked',
    kind: 'rows',
    columns: [
      { key: 'key', label: 'Name in formulas', hint: 'width', kind: 'text' },
      { key: 'label', label: 'Question', hint: 'Width of the block', kind: 'text' },
      { key: 'kind', label: 'Kind', kind: 'choice', choices: fieldKinds() },
      { key: 'start', label: 'Begins with', kind: 'text' },
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
    ],
  },
]

function fieldKinds(): readonly { readonly value: OwnFieldKind; readonly label: string }[] {
  return [
    { value: 'length', label: 'Size' },
    { value: 'count', label: 'Number' },
    { value: 'yes-no', label: 'Yes or no' },
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
    fields: [
      { key: 'length', label: 'Length', kind: 'length', start: size('12', '300') },
      { key: 'width', label: 'Width', kind: 'length', start: size('8', '200') },
      { key: 'wood', label: 'Wood', kind: 'wood', start: 'walnut' },
      { key: 'glue', label: 'Glue', kind: 'glue', start: 'pva_type2' },
      { key: 'finish', label: 'Finish', kind: 'finish', start: 'wiping_oil_varnish' },
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
  fields: own.fields.map((field) => ({ ...field })),
  parts: own.parts.map((part) => ({ ...part })),
  steps: own.steps.map((step, index) => writeStep(step, index)),
})

function writeStep(step: OwnStep, index: number): { readonly [key: string]: string | boolean } {
  return stepText({
    name: step.name,
    kind: step.kind,
    minutes: step.minutes,
    wait: writeWait(step.wait),
    atMost: step.atMostMin === null ? '' : writeDuration(step.atMostMin),
    after: writeAfter(step.after, index),
    dusty: step.dusty,
    units: step.units,
    when: step.when,
  })
}

function writeWait(wait: OwnWait): string {
  if (wait.kind === 'none') return ''
  return wait.kind === 'minutes' ? writeDuration(wait.minutes) : wait.field
}

const stepText = (step: {
  readonly [key: string]: string | boolean
}): { readonly [key: string]: string | boolean } => ({
  name: '',
  kind: 'hand',
  minutes: '',
  wait: '',
  atMost: '',
  after: '',
  dusty: false,
  units: '',
  when: '',
  ...step,
})
