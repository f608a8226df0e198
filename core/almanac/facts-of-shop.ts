import { isoCurrency, type Currency } from '../money/currency.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import { readDuration, writeDuration } from '../time/duration.ts'
import { isTimeZone } from '../time/zone-offsets.ts'
import type { Almanac } from './almanac.ts'
import { readWhole } from './read-figures.ts'
import { OWN, PRACTICE, type FactKind, type Slot } from './fact.ts'

const UNITS = [
  { value: 'inch', label: 'Inches and fractions' },
  { value: 'millimetre', label: 'Millimeters' },
] as const

const OWN_RECORD = 'Gibbs & Candes, Adaptive Conformal Inference, NeurIPS 2021'

const GO_BY = [
  { value: 'careful', label: 'The careful figure' },
  { value: 'usual', label: 'The usual figure' },
  { value: 'bold', label: 'The bold figure' },
] as const

const COUNT_RECORD = [
  { value: 'yes', label: 'Yes: by how many were kept' },
  { value: 'no', label: 'No' },
] as const

/** Name, place, units and money of the shop. */
export function shopSlots(almanac: Almanac): Slot[] {
  const { shop } = almanac
  const set = <Value>(read: Result<Value>, change: (value: Value) => Partial<Almanac['shop']>): Result<Almanac> =>
    read.ok ? ok({ ...almanac, shop: { ...shop, ...change(read.value) } }) : read
  const slot = (
    key: string,
    label: string,
    kind: FactKind,
    value: string,
    source: string,
    change: Slot['change'],
  ): Slot => ({
    key: `shop.${key}`,
    group: 'shop',
    about: '',
    label,
    kind,
    unit: '',
    value,
    source,
    choices: [],
    change,
  })
  return [
    slot('name', 'Name of the shop', 'text', shop.name, OWN, (text) => set(readName(text), (name) => ({ name }))),
    slot('timeZone', 'Time zone', 'time-zone', shop.timeZone, 'from this computer', (text) =>
      set(readTimeZone(text), (timeZone) => ({ timeZone })),
    ),
    {
      ...slot('units', 'Sizes in', 'choice', shop.units, 'from this computer', (text) =>
        set(readUnits(text), (units) => ({ units })),
      ),
      choices: UNITS,
    },
    slot('currency', 'Currency', 'currency', shop.currency.code, 'from this computer', (text) =>
      set(readCurrency(text), (currency) => ({ currency })),
    ),
    {
      ...slot('goBy', 'Where sources disagree, go by', 'choice', almanac.goBy, PRACTICE, (text) => {
        const goBy = GO_BY.find(({ value }) => value === text)?.value
        return goBy === undefined
          ? failed(problem('choice', 'Where sources disagree, go by: choose careful, usual or bold.'))
          : ok({ ...almanac, goBy })
      }),
      choices: GO_BY,
    },
    {
      ...slot('countRecord', 'Past promises move new dates', 'choice', almanac.countRecord, OWN_RECORD, (text) =>
        text === 'yes' || text === 'no'
          ? ok({ ...almanac, countRecord: text })
          : failed(problem('choice', 'Past promises move new dates: choose yes or no.')),
      ),
      choices: COUNT_RECORD,
    },
    slot(
      'glueUpWithin',
      'Milled stock is glued up within',
      'duration',
      writeDuration(almanac.glueUpWithinMin),
      'Franklin International: the day it is milled',
      (text) => {
        const read = readDuration(text, 'h')
        if (!read.ok) return read
        if (read.value < 60)
          return failed(
            problem('too-short', 'Milled stock is glued up within: at least an hour, else nothing can be planned.'),
          )
        return ok({ ...almanac, glueUpWithinMin: read.value })
      },
    ),
    {
      ...slot('keepCustomers', KEEP, 'count', String(almanac.keepCustomersYears), KEEP_SOURCE, (text) => {
        const years = readWhole(text, KEEP, 0, 100)
        return years.ok ? ok({ ...almanac, keepCustomersYears: years.value }) : years
      }),
      unit: 'years, 0 for no limit',
    },
  ]
}

const KEEP = 'Keep customers after their last order'

/** How long business papers have to be kept; whoever is due is listed, never erased unasked. */
const KEEP_SOURCE = 'IRS Publication 552: 3 years, 6 where a quarter of income was left out; local rules decide'

const readName = (text: string): Result<string> =>
  text.trim() === ''
    ? failed(problem('name-missing', 'Name of the shop: type one, it stands on the papers.'))
    : ok(text.trim())

function readTimeZone(text: string): Result<string> {
  const zone = text.trim()
  return isTimeZone(zone)
    ? ok(zone)
    : failed(
        problem('time-zone', `Time zone: “${zone}” is none I know: write it like America/Chicago or Europe/Berlin.`),
      )
}

const readUnits = (text: string): Result<'inch' | 'millimetre'> => {
  const units = UNITS.find((one) => one.value === text)
  return units === undefined ? failed(problem('units', 'Sizes in: choose inches or millimeters.')) : ok(units.value)
}

function readCurrency(text: string): Result<Currency> {
  const code = text.trim().toUpperCase()
  const known = /^[A-Z]{3}$/.test(code) && Intl.supportedValuesOf('currency').includes(code)
  return known
    ? ok(isoCurrency(code))
    : failed(problem('currency', `Currency: “${text.trim()}” is not a currency: type its three letters, USD or EUR.`))
}
