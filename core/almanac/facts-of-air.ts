import { failed, ok, problem, type Result } from '../problems.ts'
import { readDuration, writeDuration } from '../time/duration.ts'
import type { Air, HomeAir } from '../wood/seasons.ts'
import type { Almanac, ShopAir } from './almanac.ts'
import { OWN, PRACTICE, type FactKind, type Slot } from './fact.ts'
import { HOME_ENDS, homeKinds, homeOf, homeOfKind, homeProblem } from './home.ts'
import { MONTHS } from './months.ts'
import { readFraction, readTemperature, sameOr, writeFraction, writeTemperature } from './read-figures.ts'

const HEATED = [
  { value: 'always', label: 'Night and day' },
  { value: 'for-work', label: 'Only while somebody works' },
] as const

const MONTHS_FORM = 'twelve figures, January first, with commas between'

/** The shop's air while somebody works and when nobody does, through the year; and that of the customer's home. */
export function airSlots(almanac: Almanac): Slot[] {
  const { shop, air, home } = almanac
  const slot = (
    key: string,
    label: string,
    kind: FactKind,
    value: string,
    source: string,
    change: Slot['change'],
  ): Slot => ({ key, group: 'air', about: '', label, kind, unit: '', value, source, choices: [], change })
  const set = <Value>(read: Result<Value>, change: (value: Value) => Partial<Almanac>): Result<Almanac> =>
    read.ok ? ok({ ...almanac, ...change(read.value) }) : read
  const temperature = (text: string, label: string): Result<number> => readTemperature(text, label, shop.units)
  const humidity = (text: string, label: string): Result<number> => readFraction(text, label, 0.01)
  const withAir = (changes: Partial<ShopAir>): Partial<Almanac> => ({ air: { ...air, ...changes } })

  const ofHome = (end: keyof HomeAir): Slot[] => {
    const at = (changes: Partial<Air>): Result<Almanac> =>
      withHome(almanac, { ...home, [end]: { ...home[end], ...changes } })
    const source = homeOf(home).kind === 'own' ? OWN : 'as the kind of home above'
    const [temperatureLabel, humidityLabel] = [`${HOME_ENDS[end]}, temperature`, `${HOME_ENDS[end]}, humidity`]
    return [
      slot(
        `home.${end}.temperature`,
        temperatureLabel,
        'temperature',
        writeTemperature(home[end].celsius, shop.units),
        source,
        (text) => {
          const read = sameOr(
            text,
            home[end].celsius,
            (one) => writeTemperature(one, shop.units),
            temperatureLabel,
            temperature,
          )
          return read.ok ? at({ celsius: read.value }) : read
        },
      ),
      slot(`home.${end}.humidity`, humidityLabel, 'fraction', writeFraction(home[end].rh), source, (text) => {
        const read = sameOr(text, home[end].rh, writeFraction, humidityLabel, humidity)
        return read.ok ? at({ rh: read.value }) : read
      }),
    ]
  }

  return [
    slot(
      'shop.temperature',
      'Shop temperature',
      'temperature',
      writeTemperature(shop.temperatureC, shop.units),
      PRACTICE,
      (text) => set(temperature(text, 'Shop temperature'), (temperatureC) => ({ shop: { ...shop, temperatureC } })),
    ),
    slot('shop.humidity', 'Relative humidity', 'fraction', writeFraction(shop.humidityRh), PRACTICE, (text) =>
      set(humidity(text, 'Relative humidity'), (humidityRh) => ({ shop: { ...shop, humidityRh } })),
    ),
    {
      ...slot('air.heated', 'Heated', 'choice', air.heated, PRACTICE, (text) =>
        set(readHeated(text), (heated) => withAir({ heated })),
      ),
      choices: HEATED,
    },
    slot('air.warmUp', 'Warms up in', 'duration', writeDuration(air.warmUpMin), PRACTICE, (text) =>
      set(readHours(text, 'Warms up in'), (warmUpMin) => withAir({ warmUpMin })),
    ),
    slot('air.coolDown', 'Cools down in', 'duration', writeDuration(air.coolDownMin), PRACTICE, (text) =>
      set(readHours(text, 'Cools down in'), (coolDownMin) => withAir({ coolDownMin })),
    ),
    slot(
      'air.unheatedC',
      'Unheated temperature',
      'months',
      writeMonths(air.unheatedC, (celsius) => writeTemperature(celsius, shop.units)),
      PRACTICE,
      (text) =>
        set(
          readMonths(
            text,
            'Unheated temperature',
            air.unheatedC,
            (one) => writeTemperature(one, shop.units),
            temperature,
          ),
          (unheatedC) => withAir({ unheatedC }),
        ),
    ),
    slot(
      'air.unheatedRh',
      'Unheated humidity',
      'months',
      writeMonths(air.unheatedRh, writeFraction),
      PRACTICE,
      (text) =>
        set(readMonths(text, 'Unheated humidity', air.unheatedRh, writeFraction, humidity), (unheatedRh) =>
          withAir({ unheatedRh }),
        ),
    ),
    {
      ...slot('home.kind', 'The customer’s home', 'choice', homeOf(home).kind, homeOf(home).source, (text) =>
        set(readHomeKind(text, home), (kept) => ({ home: kept })),
      ),
      choices: [...homeKinds, { value: 'own', label: 'As written below' }],
    },
    ...ofHome('driest'),
    ...ofHome('dampest'),
  ]
}

function readHeated(text: string): Result<ShopAir['heated']> {
  const heated = HEATED.find((one) => one.value === text)
  return heated === undefined
    ? failed(problem('heated', 'Heated: choose night and day, or only while somebody works.'))
    : ok(heated.value)
}

function readHours(text: string, label: string): Result<number> {
  const read = readDuration(text, 'h')
  if (!read.ok) return read
  return read.value <= 48 * 60
    ? read
    : failed(problem('out-of-range', `${label}: ${text.trim()} does not work, up to 48 h do.`))
}

const writeMonths = (values: readonly number[], write: (value: number) => string): string =>
  values.map(write).join(', ')

function readMonths(
  text: string,
  label: string,
  now: readonly number[],
  write: (value: number) => string,
  readOne: (text: string, label: string) => Result<number>,
): Result<readonly number[]> {
  const parts = text.split(/[,;]\s+|;/).map((part) => part.trim())
  if (parts.length !== MONTHS.length) return failed(problem('months', `${label}: write ${MONTHS_FORM}.`))
  const values: number[] = []
  for (const [at, part] of parts.entries()) {
    const read = sameOr(part, now[at], write, `${label}, ${MONTHS[at]}`, readOne)
    if (!read.ok) return read
    values.push(read.value)
  }
  return ok(values)
}

const readHomeKind = (text: string, now: HomeAir): Result<HomeAir> => {
  if (text === 'own') return ok(now)
  const chosen = homeOfKind(text)
  return chosen === null ? failed(problem('home', 'The customer’s home: choose one of the list.')) : ok(chosen)
}

function withHome(almanac: Almanac, home: HomeAir): Result<Almanac> {
  const turned = homeProblem(home)
  return turned === null ? ok({ ...almanac, home }) : failed(turned)
}
