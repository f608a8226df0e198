import { ok } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { OWN, PRACTICE, type Slot } from './fact.ts'
import { readWhole } from './read-figures.ts'
import { MACHINES, readLeftToOthers, writeLeftToOthers } from './work-kinds.ts'
import type { SessionFacts } from './working-sessions.ts'

/** Machines that are counted, who does what, and what of a session is no work. */
export const peopleSlots = (almanac: Almanac): Slot[] => [
  ...machineSlots(almanac),
  ...(almanac.makers.length < 2 ? [] : leftToOthersSlots(almanac)),
  ...sessionSlots(almanac),
]

const common = { group: 'stations', about: '', unit: '', choices: [] } as const

const COUNTED = [
  { value: 'no', label: 'Free for all' },
  { value: 'yes', label: 'One job at a time' },
] as const

const machineSlots = (almanac: Almanac): Slot[] =>
  MACHINES.map(({ id, name }) => ({
    ...common,
    key: `machines.${id}`,
    label: name,
    kind: 'choice',
    value: almanac.machines.includes(id) ? 'yes' : 'no',
    source: PRACTICE,
    choices: COUNTED,
    change: (text) => {
      const others = almanac.machines.filter((each) => each !== id)
      return ok({ ...almanac, machines: text === 'yes' ? [...others, id] : others })
    },
  }))

const leftToOthersSlots = (almanac: Almanac): Slot[] =>
  almanac.makers.map(({ id, name }) => ({
    ...common,
    key: `leftToOthers.${id}`,
    label: `${name} leaves to others`,
    kind: 'text',
    value: writeLeftToOthers(almanac.leftToOthers[id] ?? []),
    ownDefault: '',
    source: OWN,
    change: (text) => {
      const read = readLeftToOthers(text, id, almanac)
      if (!read.ok) return read
      const { [id]: _, ...others } = almanac.leftToOthers
      return ok({ ...almanac, leftToOthers: read.value.length === 0 ? others : { ...others, [id]: read.value } })
    },
  }))

const MOST_MIN = 240

function sessionSlots(almanac: Almanac): Slot[] {
  const slot = (name: keyof SessionFacts, label: string, perUnit: number, unit: string): Slot => ({
    ...common,
    key: `session.${name}`,
    label,
    kind: 'count',
    unit,
    value: String(almanac.session[name] / perUnit),
    source: PRACTICE,
    change: (text) => {
      const read = readWhole(text, label, perUnit === 1 ? 0 : 1, perUnit === 1 ? MOST_MIN : 24)
      return read.ok ? ok({ ...almanac, session: { ...almanac.session, [name]: read.value * perUnit } }) : read
    },
  })
  return [
    slot('warmUpMin', 'Warm-up before the first step', 1, 'minutes'),
    slot('putAwayMin', 'Putting away after the last', 1, 'minutes'),
    slot('breakMin', 'Break in a long session', 1, 'minutes'),
    slot('breakOverMin', 'Long is a session over', 60, 'hours'),
  ]
}
