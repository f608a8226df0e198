import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readWorlds } from '../../../benchmarks/year/read-world.ts'
import { DEVELOPMENT_WORLD } from '../../../benchmarks/year/world.ts'
import { shopOf } from '../../../benchmarks/year/shop.ts'
import { customersOf } from '../../../benchmarks/year/customers.ts'
import { workOrderOf, trueOrderOf } from '../../../benchmarks/year/work-order.ts'
import { normal, poisson, tailed, triangular, uniform } from '../../../benchmarks/year/luck.ts'

const messages = (data: unknown): string[] => {
  const read = readWorlds(JSON.stringify(data))
  return read.ok ? [] : read.problems.map(({ message }) => message)
}

describe('a file of worlds', () => {
  it('is what lies beside the benchmark: ten families, each unlike the development world in something', () => {
    const read = readWorlds(
      readFileSync(new URL('../../../benchmarks/year/other-worlds.json', import.meta.url), 'utf8'),
    )
    if (!read.ok) throw new Error(read.problems[0]?.message)
    expect(new Set(read.value.map(({ name }) => name)).size).toBe(10)
    for (const world of read.value) expect({ ...world, name: 'development' }).not.toEqual(DEVELOPMENT_WORLD)
  })

  it('says what differs from the development world', () => {
    const read = readWorlds(
      JSON.stringify({
        worlds: [{ name: 'slow', minutes: { makerMean: 0.4, stepFreedom: 4 }, evenings: { attendance: [0.5, 0.6] } }],
      }),
    )
    if (!read.ok) throw new Error(read.problems[0]?.message)
    expect(read.value).toEqual([
      {
        ...DEVELOPMENT_WORLD,
        name: 'slow',
        minutes: { ...DEVELOPMENT_WORLD.minutes, makerMean: 0.4, stepFreedom: 4 },
        evenings: { ...DEVELOPMENT_WORLD.evenings, attendance: [0.5, 0.6] },
      },
    ])
  })

  it('is refused with the name of the field that is wrong', () => {
    expect(messages({ worlds: [{ name: 'a', evenings: { attendance: [0.9, 1.2] } }] })[0]).toMatch(
      /^worlds\.0\.evenings\.attendance\.1: /,
    )
    expect(messages({ worlds: [{ name: 'a', evenings: { attendance: [0.9, 0.8] } }] })[0]).toContain(
      'smaller value first',
    )
    expect(messages({ worlds: [{ name: 'a', evenings: { hours: { 8: '19:00-21:00' } } }] })[0]).toContain(
      '1 for Monday',
    )
    expect(messages({ worlds: [{ name: 'a', moods: 3 }] })[0]).toContain('moods')
    expect(messages({ worlds: [{ minutes: {} }] })[0]).toMatch(/^worlds\.0\.name: /)
    expect(messages({ worlds: [] })[0]).toContain('one at least')
    expect(readWorlds('{')).toMatchObject({ ok: false, problems: [{ code: 'not-json' }] })
  })
})

describe('luck by name', () => {
  const names = Array.from({ length: 20_000 }, (_, index) => `name ${index}`)
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

  it('is the same for the same name and fills the interval evenly', () => {
    expect(uniform('a')).toBe(uniform('a'))
    const values = names.map(uniform)
    for (let tenth = 0; tenth < 10; tenth++) {
      const share = values.filter((value) => Math.floor(value * 10) === tenth).length / values.length
      // Four standard deviations of a share of 20,000; the names are fixed, so this cannot fail by chance.
      expect(Math.abs(share - 0.1)).toBeLessThan(4 * Math.sqrt((0.1 * 0.9) / names.length))
    }
  })

  it('has the moments of its distributions', () => {
    const normals = names.map(normal)
    expect(mean(normals)).toBeCloseTo(0, 1)
    expect(mean(normals.map((value) => value ** 2))).toBeCloseTo(1, 1)
    expect(mean(names.map((name) => tailed(name, 6) ** 2))).toBeCloseTo(1, 1)
    // Mean of a triangle: a third of the sum of its corners.
    expect(mean(names.map((name) => triangular(name, 0, 3, 9)))).toBeCloseTo(4, 1)
    expect(mean(names.map((name) => poisson(name, 0.43)))).toBeCloseTo(0.43, 1)
  })
})

describe('a shop of the development world', () => {
  const shop = shopOf(DEVELOPMENT_WORLD, 1)

  it('is asked for about three orders a week, two with an open door, of about four hours without setups', () => {
    const weeks = 1096 / 7
    const customers = customersOf(shop, false)
    expect(customers.length / weeks).toBeGreaterThan(2.6)
    expect(customers.length / weeks).toBeLessThan(3.4)
    expect(customersOf(shop, true).length / weeks).toBeLessThan(2.5)
    const hours = customers.map((customer) =>
      workOrderOf(shop, customer).book.steps.reduce((sum, { minutes }) => sum + minutes / 60, 0),
    )
    const mean = hours.reduce((sum, each) => sum + each, 0) / hours.length
    expect(mean).toBeGreaterThan(3.8)
    expect(mean).toBeLessThan(4.7)
  })

  it('answers the first questions near to what is true, or skips them', () => {
    expect(shop.said).toEqual([])
    expect(shop.almanac.makers[0]!.attendance).toBe(0.9)
    const answers = { timesSpread: 0, attendanceOff: 0.04 }
    const answering = shopOf({ ...DEVELOPMENT_WORLD, answers }, 1)
    expect(answering.said).toHaveLength(3)
    for (const { operation, y } of answering.said)
      expect(y).toBeCloseTo(shop.makerBias + shop.operationBias(operation), 12)
    // Off by so much, and half a tenth by rounding.
    expect(Math.abs(answering.almanac.makers[0]!.attendance - shop.attendance)).toBeLessThanOrEqual(0.09)
  })

  it('has the same truth about an order whoever asks and whenever', () => {
    const customer = customersOf(shop, false)[17]!
    const first = trueOrderOf(shop, workOrderOf(shop, customer))
    const again = trueOrderOf(shopOf(DEVELOPMENT_WORLD, 1), workOrderOf(shop, customer))
    expect(again.steps).toEqual(first.steps)
    expect([...again.waitsInto]).toEqual([...first.waitsInto])
    for (const { id } of first.steps) expect(again.minutes(id, 1)).toBe(first.minutes(id, 1))
  })

  it('keeps the evenings that its attendance says, less the weeks that are lost', () => {
    const days = Array.from({ length: 1096 }, (_, index) => 19_723 + index)
    const met = days.filter((day) => shop.evening(day) !== null).length
    const planned = new Set(shop.hours.map(({ from }) => Math.floor(from / 1440)))
    const share = met / days.filter((day) => planned.has(day)).length
    expect(Math.abs(share - shop.attendance * 0.97)).toBeLessThan(0.05)
  })
})
