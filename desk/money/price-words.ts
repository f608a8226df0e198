import type { Almanac } from '../../core/almanac/almanac.ts'
import { usualStep, type MoneyFacts } from '../../core/almanac/money-facts.ts'
import { wasteInWords } from '../../core/almanac/read-wood-waste.ts'
import { contributionOf, boughtIn, reached, type Price, type PriceLine } from '../../core/money/price.ts'
import type { RemakeRecord } from '../../core/money/remake-reserve.ts'
import { writeRate, type Ppm } from '../../core/money/rate.ts'
import { durationWords } from '../../core/time/duration.ts'

/** What is not known yet, as a sentence. */
export const MISSING: Readonly<Record<Price['missing'][number], string>> = {
  'wood-price': 'A wood has no price yet: Almanac, Lumberyard.',
  rate: 'No pay for an hour yet: Almanac, Prices.',
  overhead: 'No overhead yet: Almanac, Prices.',
}

export const LABELS: Readonly<Record<PriceLine['kind'], string>> = {
  wood: 'Wood',
  hardware: 'Hardware',
  consumables: 'Glue, finish, abrasives',
  labor: 'Hands-on hours',
  overhead: 'Overhead',
  remakes: 'Kept back for remakes',
  profit: 'Profit',
  option: 'Option',
  tax: 'Tax in the price',
  rounding: 'Rounding',
}

export const labelOf = ({ kind, name }: PriceLine): string => (name === '' ? LABELS[kind] : name)

type Say = (minor: number) => string

/** What an hour of a line of labor costs. */
function payOf({ name }: PriceLine, { money, makers }: Almanac): number {
  const maker = makers.find((each) => name === `${LABELS.labor}, ${each.name}`)
  return (maker === undefined ? money.payPerHourMinor : money.payOfMaker[maker.id]) ?? 0
}

interface WhyGiven {
  readonly almanac: Almanac
  readonly record: RemakeRecord
  /** Kept back for remakes, by that record or as typed. */
  readonly share: Ppm
  readonly say: Say
}

/** Why a line of a price is what it is. */
export function whyOf(line: PriceLine, price: Price, { almanac, record, share, say }: WhyGiven): string {
  const { money, shop } = almanac
  switch (line.kind) {
    case 'wood':
      return `Every part as cut, ${wasteInWords(almanac)} of what is bought lost, at the lumberyard's prices.`
    case 'hardware':
      return 'By the piece, at the prices of the Almanac.'
    case 'consumables':
      return `${writeRate(money.consumablesShare)} of wood, hardware and hours.`
    case 'labor':
      return `${durationWords(line.minutes ?? 0)} with setups, at ${say(payOf(line, almanac))} an hour. Waits cost nothing.`
    case 'overhead':
      return `${say(money.overheadYearMinor ?? 0)} a year over ${money.handsOnHoursYear ?? 0} hands-on hours, for ${durationWords(price.minutes)}.`
    case 'remakes':
      return whyRemakes(money, record, share)
    case 'profit': {
      const { margin, markUp } = reached(price.costMinor + line.minor, price.costMinor)
      return `A margin of ${percent(margin)} of the price is a mark-up of ${percent(markUp)} on the cost.`
    }
    case 'tax':
      return `${money.taxes.map(({ name, rate }) => `${name || 'Tax'} ${writeRate(rate)}`).join(' and ')} on the lines above.`
    case 'option':
      return 'Charged by itself.'
    case 'rounding':
      return `${money.priceRounding === 'up' ? 'Up to the next' : 'To the nearest'} ${say(money.priceStepMinor ?? usualStep(shop.currency))}.`
  }
}

/** Where the share for remakes comes from: typed, or the shop's own log. */
function whyRemakes({ remakesBy, remakesShare: typed }: MoneyFacts, record: RemakeRecord, share: Ppm): string {
  const { lostMin, goodMin, pieces, again } = record
  if (remakesBy === 'typed' || pieces === 0) return `${writeRate(typed)} of the cost so far, as typed in the Almanac.`
  return (
    `${percent(share)} of the cost so far. Your log: ${again} of ${pieces} pieces made again, ` +
    `${durationWords(lostMin)} lost against ${durationWords(goodMin)} that count. The ${writeRate(typed)} you typed counts like 100 h.`
  )
}

/** What a price that was typed leaves, without the tax in it: a line each. */
export function leavesOf(
  netMinor: number,
  price: Price,
  money: MoneyFacts,
  say: (minor: number) => string,
): readonly string[] {
  const { margin } = reached(netMinor, price.costMinor)
  const left = contributionOf(netMinor, boughtIn(price), price.minutes)
  const hour = left.perHourMinor
  const isWoodKnown = !price.missing.includes('wood-price')
  const after = isWoodKnown ? 'wood and supplies' : 'supplies, not counting wood, which has no price yet'
  return [
    ...(hour === null ? [] : [`${say(hour)} a hands-on hour after ${after}.`]),
    ...(money.payPerHourMinor === null || margin === null || (!isWoodKnown && netMinor >= price.costMinor)
      ? []
      : [netMinor < price.costMinor ? `${say(price.costMinor - netMinor)} below cost.` : `${percent(margin)} margin.`]),
  ]
}

const percent = (rate: number | null): string => (rate === null ? '0%' : `${Math.round(rate / 1000) / 10}%`)
