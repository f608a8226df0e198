import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { almanacFacts, changeFact } from '../../../core/almanac/facts.ts'
import { inches } from '../../../core/lengths/length.ts'

const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const fact = (almanac: Almanac, key: string) => almanacFacts(almanac, starting).find((one) => one.key === key)

function changed(key: string, text: string, almanac = starting): Almanac {
  const result = changeFact(almanac, key, text)
  if (!result.ok) throw new Error(result.problems.map((one) => one.message).join(' '))
  return result.value
}

const refusal = (key: string, text: string): string => {
  const result = changeFact(starting, key, text)
  return result.ok ? 'taken' : `${result.problems[0]?.field}: ${result.problems[0]?.message}`
}

describe('every fact', () => {
  test('has a key of its own, a label, a value and a source', () => {
    const facts = almanacFacts(starting, starting)
    expect(new Set(facts.map((one) => one.key)).size).toBe(facts.length)
    expect(facts.filter((one) => one.label === '' || one.source === '')).toEqual([])
    // What a shop asks, pays and is taxed is published nowhere, and only its maker knows where it is.
    const unknown = facts.filter((one) => one.value === '')
    expect([...new Set(unknown.map((one) => one.group))]).toEqual(['yard', 'price', 'tax', 'papers'])
    expect(unknown.filter((one) => one.group === 'yard').every((one) => /^yard\.(price|waste)\./.test(one.key))).toBe(
      true,
    )
  })

  test('of a new shop is its own default', () => {
    expect(almanacFacts(starting, starting).filter((one) => one.value !== one.default)).toEqual([])
  })

  test('typed back as it is shown changes nothing but who says so', () => {
    const plain = (almanac: Almanac) => almanacFacts(almanac, starting).map((one) => [one.key, one.value])
    const before = plain(starting)
    for (const one of almanacFacts(starting, starting))
      expect(plain(changed(one.key, one.value)), one.key).toEqual(before)
  })

  test('can be read and typed in millimeters as well', () => {
    const metric = startingAlmanac({ timeZone: 'Europe/Berlin', units: 'millimetre', currency: 'EUR' })
    expect(almanacFacts(metric, metric).find((one) => one.key === 'allowances.sawKerf')?.value).toBe('3.2 mm')
    expect(changed('allowances.sawKerf', '2.5', metric).allowances.sawKerfNm).toBe(2_500_000)
    expect(almanacFacts(metric, metric).find((one) => one.key === 'shop.temperature')?.value).toBe('21 °C')
  })
})

describe('changes', () => {
  test('a temperature in the scale of the shop, or with its letter', () => {
    expect(changed('shop.temperature', '68').shop.temperatureC).toBe(20)
    expect(changed('shop.temperature', '12 C').shop.temperatureC).toBe(12)
  })
  test('humidity in percent or as a part', () => {
    expect(changed('shop.humidity', '65 %').shop.humidityRh).toBe(0.65)
    expect(changed('shop.humidity', '0.65').shop.humidityRh).toBe(0.65)
  })
  test('an allowance as makers write it', () =>
    expect(changed('allowances.sawKerf', '3/32').allowances.sawKerfNm).toBe(inches(3 / 32)))
  test('clamps', () => expect(changed('stations.clamps.capacity', '24').stations[0]?.capacity).toBe(24))

  test('a label wins over its class, and an empty text goes back to the class', () => {
    const key = 'glues.pva_type2.clampsOff'
    const own = changed(key, '45 min')
    expect(fact(own, key)).toMatchObject({
      value: '45 min',
      default: fact(starting, key)?.value,
      source: 'label of Yellow PVA glue',
    })
    expect(changed(key, '', own)).toEqual(starting)
    expect(fact(changed(key, '30 min, 1 h, 2 h'), key)?.value).toBe('30 min, 1 h, 2 h')
  })

  test('sizes of the yard as they are said, in any order', () => {
    const own = changed('yard.thicknesses', '8/4, 27 mm; 4/4, 8/4,')
    expect(own.yard.thicknessesNm).toEqual([inches(1), 27_000_000, inches(2)])
    expect(fact(own, 'yard.thicknesses')?.value).toBe('4/4, 1 1/16", 8/4')
    expect(changed('yard.lengths', "7', 96").yard.lengthsNm).toEqual([inches(84), inches(96)])
    expect(refusal('yard.widths', 'wide')).toMatch(/^yard.widths: Widths: /)
    expect(refusal('yard.widths', ' ')).toMatch(/type at least one/)
    expect(refusal('yard.widths', '6, 0')).toMatch(/type real sizes/)
    expect(refusal('yard.widths', Array.from({ length: 13 }, (_, at) => at + 1).join(', '))).toMatch(/13 are too many/)
  })

  test('waste as what is bought on top, with a plus in front', () => {
    expect(changed('yard.waste', '+25%').yard.waste).toBeCloseTo(0.2, 6)
    expect(changed('yard.waste', '25%').yard.waste).toBe(0.25)
  })

  test('waste in percent or as a part, never all of it', () => {
    expect(changed('yard.waste', '20').yard.waste).toBe(0.2)
    expect(changed('yard.waste', '0.2').yard.waste).toBe(0.2)
    expect(changed('yard.waste', '0 %').yard.waste).toBe(0)
    expect(refusal('yard.waste', '95 %')).toMatch(/90% is the most/)
    expect(refusal('yard.waste', 'some')).toMatch(/is not a number/)
  })

  test('a price of a wood by the board foot, or by the cubic meter where that is said', () => {
    const key = 'yard.price.walnut'
    expect(fact(starting, key)).toMatchObject({ value: '', default: '', source: 'no price yet: ask the yard' })
    const own = changed(key, '$11.50')
    expect(own.woodPrices).toEqual({ walnut: { minor: 1150, per: 'board-foot' } })
    expect(fact(own, key)).toMatchObject({ value: '11.50', unit: 'a board foot', source: 'the shop’s own' })
    const metric = changed(key, '2450 / m3', own)
    expect(metric.woodPrices['walnut']).toEqual({ minor: 245_000, per: 'cubic-metre' })
    expect(changed(key, '2500', metric).woodPrices['walnut']).toEqual({ minor: 250_000, per: 'cubic-metre' })
    expect(changed(key, '12 a board foot', metric).woodPrices['walnut']).toEqual({ minor: 1200, per: 'board-foot' })
    expect(changed(key, '', metric)).toEqual(starting)
    expect(refusal(key, 'a lot')).toMatch(/^yard.price.walnut: Walnut: “a lot” is not an amount/)
  })

  test('a price by the cubic meter in a shop of millimeters', () => {
    const shop = startingAlmanac({ timeZone: 'Europe/Berlin', units: 'millimetre', currency: 'EUR' })
    expect(changed('yard.price.ash', '980', shop).woodPrices['ash']).toEqual({ minor: 98_000, per: 'cubic-metre' })
  })

  test('a standard time becomes the shop’s own', () => {
    const own = changed('standard-times.rip-strips.perUnit', '0.8')
    expect(own.standardTimes.find((one) => one.operation === 'rip-strips')).toMatchObject({
      perUnitMin: 0.8,
      source: 'the shop’s own',
    })
    expect(fact(own, 'standard-times.rip-strips.perUnit')).toMatchObject({ value: '0.8', default: '1' })
  })
})

describe('refusals name the field and say what would do', () => {
  test.each([
    [
      'shop.timeZone',
      'Middle/Earth',
      'shop.timeZone: Time zone: “Middle/Earth” is none I know: write it like America/Chicago or Europe/Berlin.',
    ],
    ['shop.humidity', '120 %', 'shop.humidity: Relative humidity: 120 % is more than all there is, 100% is the most.'],
    [
      'shop.temperature',
      'warm',
      'shop.temperature: Shop temperature: “warm” is not a temperature: type it like 68 °F or 20 °C.',
    ],
    ['shop.temperature', '300', /no shop anybody works in/],
    ['shop.currency', 'shells', /three letters, USD or EUR/],
    ['shop.name', ' ', /type one/],
    ['stations.clamps.capacity', '0', 'stations.clamps.capacity: Clamps: 0 does not work, 1 to 9999 do.'],
    ['stations.clamps.capacity', '2.5', /not a whole number/],
    ['glues.pva_type2.clampsOff', '2 h, 1 h, 30 min', /shortest, the usual and the longest/],
    ['glues.pva_type2.clampsOff', 'overnight', /no time I can read/],
    ['allowances.sawKerf', 'thin', /not a size I can read/],
    ['allowances.clampSpacing', '0', /nothing does not work/],
    ['allowances.longestPanel', '6', /shorter than what the planer takes/],
    ['standard-times.rip-strips.spread', '2 to 3', /best and the worst day/],
    ['standard-times.rip-strips.perUnit', '0', /does not work/],
    ['shop.colour', 'red', 'shop.colour: The almanac has no such fact.'],
  ])('%s as “%s”', (key, text, message) => {
    if (typeof message === 'string') expect(refusal(key, text)).toBe(message)
    else expect(refusal(key, text)).toMatch(message)
    expect(refusal(key, text)).toMatch(/[.]$/)
  })
})
