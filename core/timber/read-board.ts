import type { WoodOnOffer } from '../almanac/almanac.ts'
import { feet, inches, type LengthNm, type LengthUnits } from '../lengths/length.ts'
import { readLength } from '../lengths/read-length.ts'
import type { Currency } from '../money/currency.ts'
import { readPrice } from '../money/money.ts'
import { failed, ok, problem, within, type Problem, type Result } from '../problems.ts'
import { isDayOfThisAge, type LocalDay } from '../time/local-day.ts'
import { readRoughThickness } from '../wood/rough-thickness.ts'
import type { BoardSpan } from './cutting-model.ts'
import { readFlaws } from './read-flaws.ts'

/** Equal boards as they are typed; everything is text. */
export interface BoardInput {
  readonly wood: string
  readonly thickness: string
  readonly width: string
  readonly length: string
  /** Defects (from left end), from-to along the board: `12-15, 40 to 41 1/2`. Empty: clear. */
  readonly flaws: string
  readonly quality: string
  /** Where it is. */
  readonly place: string
  /** Of one board; empty: not known. */
  readonly price: string
  /** Percent, as the meter shows it; empty: not measured. */
  readonly moisture: string
  /** Day since which it rests in the shop, `2026-12-05`; empty: for long enough. Absent: as it was. */
  readonly hereSince?: string | undefined
  /** Id of the order that it was bought for; empty: none. Absent: as it was. */
  readonly boughtFor?: string | undefined
}

/** What is known of a board, apart from its number and photo. */
export interface BoardFacts {
  readonly wood: string
  readonly thicknessNm: LengthNm
  readonly widthNm: LengthNm
  readonly lengthNm: LengthNm
  readonly flaws: readonly BoardSpan[]
  readonly quality: string
  readonly place: string
  readonly priceMinor: number | null
  readonly moisture: MoistureReading | null
  /** Local day since which it rests in the shop; null: for longer than anybody asks. */
  readonly hereSince: LocalDay | null
  /** The commission that it was bought for. */
  readonly boughtFor: string | null
}

/** What a moisture meter said of a board, percent of ovendry weight, and on which local day. */
export interface MoistureReading {
  readonly pct: number
  readonly day: string
}

export interface BoardWords {
  readonly units: LengthUnits
  readonly currency: Currency
  readonly woods: readonly WoodOnOffer[]
  /** Local day: that of a reading which is typed now. */
  readonly today: string
  /** What the board had before: the same moisture typed again keeps its day, and what the form does not ask stays. */
  readonly before: Pick<BoardFacts, 'moisture' | 'hereSince' | 'boughtFor'> | null
}

/** More than these is a slip of the unit or of the order of the sizes. */
const MOST: Readonly<Record<'thickness' | 'width' | 'length', LengthNm>> = {
  thickness: inches(12),
  width: feet(6),
  length: feet(40),
}

/** Reads a board; every problem names its field. */
export function readBoard(
  input: BoardInput,
  { units, currency, woods, today, before }: BoardWords,
): Result<BoardFacts> {
  const problems: Problem[] = []
  const take = <T>(field: string, read: Result<T>): T | null => {
    if (read.ok) return read.value
    problems.push(...read.problems.map(({ code, message }) => within(field, { code, message })))
    return null
  }
  const size = (name: keyof typeof MOST): LengthNm => {
    const nm = take(
      name,
      name === 'thickness' ? readRoughThickness(input[name], units) : readLength(input[name], units),
    )
    if (nm === 0) problems.push(problem('no-size', 'A board of nothing: type its real size.', name))
    else if (nm !== null && nm > MOST[name])
      problems.push(problem('too-big', `No board has that ${name}: check unit and order of sizes.`, name))
    return nm ?? 0
  }
  const known = woods.some(({ id }) => id === input.wood)
  if (!known) problems.push(problem('wood', 'Which wood is it? Choose one; more are added in the Almanac.', 'wood'))
  const thicknessNm = size('thickness')
  const widthNm = size('width')
  const lengthNm = size('length')
  const flaws = take('flaws', readFlaws(input.flaws, lengthNm, units)) ?? []
  const priceMinor = input.price.trim() === '' ? null : take('price', readPrice(input.price, currency))
  const pct = input.moisture.trim() === '' ? null : take('moisture', readMoisture(input.moisture))
  const moisture = pct === null ? null : pct === before?.moisture?.pct ? before.moisture : { pct, day: today }
  const hereSince =
    input.hereSince === undefined
      ? (before?.hereSince ?? null)
      : take('hereSince', readHereSince(input.hereSince, today))
  const boughtFor = input.boughtFor === undefined ? (before?.boughtFor ?? null) : input.boughtFor || null
  if (problems.length > 0) return failed(...problems)
  const quality = input.quality.trim()
  const place = input.place.trim()
  const sizes = { thicknessNm, widthNm, lengthNm }
  return ok({ wood: input.wood, ...sizes, flaws, quality, place, priceMinor, moisture, hereSince, boughtFor })
}

function readHereSince(text: string, today: LocalDay): Result<LocalDay | null> {
  const day = text.trim()
  if (day === '') return ok(null)
  if (!isDayOfThisAge(day)) return failed(problem('day', 'In the shop since: choose a day, such as 2026-12-05.'))
  return day <= today ? ok(day) : failed(problem('day', 'In the shop since: that day is still ahead.'))
}

/** Meters read from 4 to 30 %; above that wood is wet, below dried in an oven. @source Wood Handbook (2010) p. 13-3 */
function readMoisture(text: string): Result<number> {
  const pct = Number(text.replace('%', '').trim().replace(',', '.'))
  return Number.isFinite(pct) && pct >= 4 && pct <= 40
    ? ok(pct)
    : failed(problem('moisture', 'Moisture: type what the meter shows, such as 8.5 (4 to 40).', 'moisture'))
}

/** How many equal boards: a whole number from 1 to 99. */
export function readCount(text: string): Result<number> {
  const count = Number(text.trim())
  return text.trim() !== '' && Number.isInteger(count) && count >= 1 && count <= 99
    ? ok(count)
    : failed(problem('count', 'How many boards like this? 1 to 99.', 'count'))
}
