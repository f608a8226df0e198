import { ok, type Result } from '../problems.ts'
import { clockNames, clockOf, isDeadline, type ClockName } from '../waits/product.ts'
import type { Almanac, ProductOnShelf } from './almanac.ts'
import type { Slot } from './fact.ts'
import { readRange, writeRange } from './read-figures.ts'

export const CLOCK_LABELS: Readonly<Record<ClockName, string>> = {
  open: 'Open time',
  assembly: 'Assembly time',
  clampsOff: 'Clamps off after',
  clampsOffStressed: 'Clamps off after, joints under stress',
  mayMachine: 'Ready to machine',
  fullStrength: 'Full strength after',
  dustFree: 'Dust-free after',
  touchDry: 'Touch dry after',
  recoatOpens: 'Recoat after',
  recoatCloses: 'Recoat within',
  mayPack: 'Pack after',
  lightUse: 'Light use after',
  fullCure: 'Full cure after',
  mayRubOut: 'Rub out after',
}

/** The clocks of every glue or finish on the shelf; an empty text goes back from the label to the class. */
export const productSlots = (almanac: Almanac, shelf: 'glues' | 'finishes'): Slot[] =>
  almanac[shelf].flatMap((product) => clockNames(product).flatMap((clock) => clockSlot(almanac, shelf, product, clock)))

function clockSlot(almanac: Almanac, shelf: 'glues' | 'finishes', product: ProductOnShelf, clock: ClockName): Slot[] {
  const now = clockOf(product, clock)
  const ofClass = clockOf({ ...product, label: {} }, clock)
  if (now === null) return []
  const change = (text: string): Result<Almanac> => {
    const { [clock]: _, ...others } = product.label
    const range =
      text.trim() === '' ? null : readRange(text, CLOCK_LABELS[clock], isDeadline(clock) ? 'deadline' : 'wait')
    if (range !== null && !range.ok) return range
    const label = range === null ? others : { ...others, [clock]: range.value }
    return ok({ ...almanac, [shelf]: almanac[shelf].map((one) => (one.id === product.id ? { ...one, label } : one)) })
  }
  const slot: Slot = {
    key: `${shelf}.${product.id}.${clock}`,
    group: shelf,
    about: product.name,
    label: CLOCK_LABELS[clock],
    kind: 'range',
    unit: '',
    value: writeRange(now),
    source: now.source,
    choices: [],
    change,
  }
  return [ofClass === null ? slot : { ...slot, ownDefault: writeRange(ofClass) }]
}
