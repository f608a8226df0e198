import type { LengthNm } from '../lengths/length.ts'
import { readLength } from '../lengths/read-length.ts'
import { writeLength } from '../lengths/write-length.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import type { IsoWeekday } from '../time/local-day.ts'
import { wasteOfMargin } from '../wood/board-measure.ts'
import { readRoughThickness, writeRoughThickness } from '../wood/rough-thickness.ts'
import type { Almanac, Yard } from './almanac.ts'
import { REST_SOURCE, YARD_SOURCES } from './defaults.ts'
import { GRADE_SOURCE } from '../timber/waste.ts'
import { OWN, PRACTICE, type Slot } from './fact.ts'
import { MOST_WASTE, readWoodWaste, writeWoodWaste } from './read-wood-waste.ts'
import { readFraction, readWhole, writeFraction } from './read-figures.ts'
import { PER_WORDS, perOf, readWoodPrice, writeWoodPrice } from './wood-price.ts'

/** How the yard sells rough boards, and what it asks for each wood. */
export const yardSlots = (almanac: Almanac): Slot[] => [
  ...sizeSlots(almanac),
  wasteSlot(almanac),
  ...woodWasteSlots(almanac),
  ...lumberSlots(almanac),
  ...priceSlots(almanac),
]

const SIZES = [
  {
    name: 'thicknessesNm',
    label: 'Rough thicknesses',
    read: readRoughThickness,
    write: writeRoughThickness,
  },
  { name: 'widthsNm', label: 'Widths', read: readLength, write: writeLength },
  { name: 'lengthsNm', label: 'Lengths', read: readLength, write: writeLength },
] as const satisfies readonly { readonly name: keyof Yard; readonly [more: string]: unknown }[]

const common = { group: 'yard', about: '', unit: '', choices: [] } as const

function sizeSlots(almanac: Almanac): Slot[] {
  const { units } = almanac.shop
  return SIZES.map(({ name, label, read, write }) => ({
    ...common,
    key: `yard.${name.replace(/Nm$/, '')}`,
    label,
    kind: 'lengths',
    value: almanac.yard[name].map((nm) => write(nm, units)).join(', '),
    source: YARD_SOURCES[name],
    change: (text) => {
      const sizes = readSizes(text, label, (one) => read(one, units))
      return sizes.ok ? ok({ ...almanac, yard: { ...almanac.yard, [name]: sizes.value } }) : sizes
    },
  }))
}

/** Every size with every other is tried for each board that is bought, so a list stays short. */
const MOST_SIZES = 12

function readSizes(text: string, label: string, read: (one: string) => Result<LengthNm>): Result<readonly LengthNm[]> {
  const sizes = new Set<LengthNm>()
  for (const said of text.split(/[,;]\s+|[,;]$|;/)) {
    if (said.trim() === '') continue
    const size = read(said.trim())
    if (!size.ok) return failed(...size.problems.map((one) => ({ ...one, message: `${label}: ${one.message}` })))
    if (size.value === 0) return failed(problem('too-small', `${label}: nothing does not work, type real sizes.`))
    sizes.add(size.value)
  }
  if (sizes.size === 0)
    return failed(problem('missing', `${label}: type at least one, several with commas between: what your yard has.`))
  if (sizes.size > MOST_SIZES)
    return failed(problem('too-many', `${label}: ${sizes.size} are too many, ${MOST_SIZES} do: the usual ones.`))
  return ok([...sizes].toSorted((a, b) => a - b))
}

const WASTE_LABEL = 'Waste'

const wasteSlot = (almanac: Almanac): Slot => ({
  ...common,
  key: 'yard.waste',
  about: 'of what is bought; or +25% on top',
  label: WASTE_LABEL,
  kind: 'fraction',
  value: writeFraction(almanac.yard.waste),
  source: YARD_SOURCES.waste,
  change: (text) => {
    const waste = readWaste(text)
    if (!waste.ok) return waste
    if (waste.value > MOST_WASTE) {
      const most = writeFraction(MOST_WASTE)
      return failed(problem('out-of-range', `${WASTE_LABEL}: ${text.trim()} does not work, ${most} is the most.`))
    }
    return ok({ ...almanac, yard: { ...almanac.yard, waste: waste.value } })
  },
})

/** The share that is lost, or with a plus in front what is bought on top: `+25%` is a waste of a fifth. */
function readWaste(text: string): Result<number> {
  const margin = /^\s*\+(.*)$/.exec(text)?.[1]
  const share = readFraction(margin ?? text, WASTE_LABEL, 0)
  return share.ok && margin !== undefined ? ok(Math.round(wasteOfMargin(share.value) * 1e6) / 1e6) : share
}

/** What a wood loses where that is another share: by its grade, and by thickness. */
const woodWasteSlots = (almanac: Almanac): Slot[] =>
  almanac.woods.map(({ id, name }) => {
    const own = almanac.woodWaste[id]
    return {
      ...common,
      key: `yard.waste.${id}`,
      label: `${WASTE_LABEL}: ${name}`,
      kind: 'text',
      value: own === undefined ? '' : writeWoodWaste(own, almanac.shop.units),
      ownDefault: '',
      source: own === undefined ? `as every wood, ${writeFraction(almanac.yard.waste)}` : GRADE_SOURCE,
      change: (text) => {
        const { [id]: _, ...others } = almanac.woodWaste
        const read = readWoodWaste(text, name, almanac.shop.units)
        if (!read.ok) return read
        return ok({ ...almanac, woodWaste: read.value === null ? others : { ...others, [id]: read.value } })
      },
    }
  })

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'].map((label, index) => ({
  value: String(index + 1),
  label,
}))

const COUNTING = [
  { value: 'when-listed', label: 'Once you list boards' },
  { value: 'always', label: 'Always' },
  { value: 'never', label: 'Never: count it as here' },
] as const

const MOST_REST_DAYS = 365

/** When lumber comes, how long it rests, and whether an order's wood is looked for among the boards on hand. */
function lumberSlots(almanac: Almanac): Slot[] {
  const rest = 'Lumber rests before the first cut'
  return [
    {
      ...common,
      key: 'yard.buyingDay',
      label: 'Trip to the lumberyard',
      kind: 'choice',
      value: String(almanac.buyingDay),
      source: PRACTICE,
      choices: WEEKDAYS,
      change: (text) => {
        const day = readWhole(text, 'Trip to the lumberyard', 1, 7)
        return day.ok ? ok({ ...almanac, buyingDay: day.value as IsoWeekday }) : day
      },
    },
    {
      ...common,
      key: 'yard.restDays',
      label: rest,
      kind: 'count',
      unit: 'days',
      value: String(almanac.restDays),
      source: REST_SOURCE,
      change: (text) => {
        const days = readWhole(text, rest, 0, MOST_REST_DAYS)
        return days.ok ? ok({ ...almanac, restDays: days.value }) : days
      },
    },
    {
      ...common,
      key: 'yard.countLumber',
      label: 'Check each order’s wood against your boards',
      kind: 'choice',
      value: almanac.countLumber,
      source: PRACTICE,
      choices: COUNTING,
      change: (text) => {
        const counting = COUNTING.find(({ value }) => value === text)?.value
        return counting === undefined
          ? failed(problem('choice', 'Check each order’s wood: choose once listed, always or never.'))
          : ok({ ...almanac, countLumber: counting })
      },
    },
  ]
}

function priceSlots(almanac: Almanac): Slot[] {
  const { units, currency } = almanac.shop
  return almanac.woods.map(({ id, name }) => {
    const price = almanac.woodPrices[id] ?? null
    return {
      ...common,
      key: priceKey(id),
      label: name,
      kind: 'price',
      unit: PER_WORDS[price?.per ?? perOf(units)],
      value: price === null ? '' : writeWoodPrice(price, currency),
      ownDefault: '',
      source: price === null ? 'no price yet: ask the yard' : OWN,
      change: (text) => {
        const { [id]: _, ...others } = almanac.woodPrices
        if (text.trim() === '') return ok({ ...almanac, woodPrices: others })
        const read = readWoodPrice(text, name, almanac.shop, price?.per)
        return read.ok ? ok({ ...almanac, woodPrices: { ...others, [id]: read.value } }) : read
      },
    }
  })
}

/** Key of the fact that says what a wood costs. */
export const priceKey = (wood: string): string => `yard.price.${wood}`
