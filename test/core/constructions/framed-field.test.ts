import type { Almanac } from '../../../core/almanac/almanac.ts'
import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { framedField } from '../../../core/constructions/framed-field/framed-field.ts'
import type { ShopFacts } from '../../../core/constructions/shop-facts.ts'
import { inches } from '../../../core/lengths/length.ts'
import { startOfLocalDay } from '../../../core/time/local-day.ts'
import { aShop } from './a-shop.ts'
import { after } from './sound-network.ts'

const shop = aShop()

function built(change: SpecInput = {}, facts: ShopFacts = shop): Build {
  const read = framedField.read({ ...framedField.starting('inch'), ...change }, 'inch', facts)
  if (!read.ok) throw new Error(read.problems.map((one) => one.message).join(' '))
  const build = framedField.build(read.value, 1, facts)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

const length = (build: Build, key: string): number => {
  const value = build.geometry.find((fact) => fact.key === key)?.value
  return value?.kind === 'length' ? value.nm : NaN
}

const tray: SpecInput = { fieldKind: 'staves', woodA: 'maple', length: '16', width: '300 mm', stave: '4' }

describe('a field of staves', () => {
  // Wood Handbook Eq. 13-2 by hand: 300 mm x .00353 (sugar maple, tangential, Table 13-5) x change of moisture.
  test('moves across its grain, and a working margin is all it needs along it', () => {
    const { buildPct, dampPct } = shop.moisture
    expect(length(built(tray), 'grows-across')).toBeCloseTo(300_000_000 * 0.00353 * (dampPct - buildPct), -2)
    const alongGap = (length(built(tray), 'outside-along') - inches(16) - 2 * inches(2)) / 2
    const acrossGap = (length(built(tray), 'outside-across') - 300_000_000 - 2 * inches(2)) / 2
    expect(alongGap).toBeLessThan(acrossGap / 2)
  })

  test('built in a dry shop it needs a deeper groove than in a damp one', () => {
    const shopAt = (humidityRh: number) =>
      aShop({ with: (almanac) => ({ ...almanac, shop: { ...almanac.shop, humidityRh } }) })
    expect(length(built(tray, shopAt(0.3)), 'groove')).toBeGreaterThan(length(built(tray, shopAt(0.55)), 'groove'))
  })

  test('follows the season of a shop with cold nights: the drier the wood, the deeper the groove', () => {
    const january = startOfLocalDay('2026-01-21', 'America/Chicago')
    const july = startOfLocalDay('2026-07-21', 'America/Chicago')
    const groove = (unheatedRh: readonly number[], builtAt: number): number => {
      const leftToTheSeason = (almanac: Almanac): Almanac => ({
        ...almanac,
        air: { ...almanac.air, heated: 'for-work', unheatedRh },
      })
      return length(built(tray, aShop({ with: leftToTheSeason, builtAt })), 'groove')
    }
    const dryWinters = [0.4, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.75, 0.65, 0.55, 0.45, 0.4]
    expect(groove(dryWinters, january)).toBeGreaterThan(groove(dryWinters, july))
    // Outdoor wood of many temperate places is dampest in winter: there it is the other way round.
    const dampWinters = dryWinters.map((_, month) => dryWinters[(month + 6) % 12] ?? 0)
    expect(groove(dampWinters, january)).toBeLessThan(groove(dampWinters, july))
  })

  test('goes with the customer’s home: a damper summer makes it deeper', () => {
    const inHome = (rh: number) =>
      aShop({
        with: (almanac) => ({ ...almanac, home: { ...almanac.home, dampest: { celsius: 24, rh } } }),
      })
    expect(length(built(tray, inHome(0.7)), 'groove')).toBeGreaterThan(length(built(tray, inHome(0.6)), 'groove'))
  })

  test('may be one board, which needs no glue-up of its own', () => {
    const keys = built({ ...tray, stave: '12' }).steps.map((step) => step.key)
    expect(keys.slice(0, 3)).toEqual(['mill', 'trim', 'mill-frame'])
  })

  test('frame stock hangs on nothing', () => {
    const { lags } = built(tray)
    expect(after('mill', lags)).not.toContain('mill-frame')
    expect(after('mill-frame', lags)).toContain('coat-1')
  })

  // Common practice, no source: opposite members are rigid to each other, so a field of staves is glued at its ends only.
  test('is glued at the middle of its ends and moves from there to both sides', () => {
    const held = built(tray)
    expect(held.steps.find((step) => step.key === 'frame-glue-up')?.note).toMatch(/two ends.*long sides stay dry/)
    expect(length(held, 'outside-along')).toBe(inches(16) + 2 * inches(2))
    const grows = length(held, 'grows-across')
    expect(length(held, 'outside-across') - 300_000_000 - 2 * inches(2)).toBeGreaterThanOrEqual(grows)
  })

  test('held at one side, the gap opposite takes all of the growth and the groove is as much deeper', () => {
    const [centered, held] = [built(tray), built({ ...tray, staveFixing: 'one-side' })]
    const grows = length(held, 'grows-across')
    expect(length(held, 'outside-across') - 300_000_000 - 2 * inches(2)).toBeCloseTo(grows + 500_000, -1)
    expect(length(held, 'groove') - length(centered, 'groove')).toBeCloseTo(grows / 2, -1)
  })

  test('an order of before the choice was asked apart keeps what it said', () => {
    const { staveFixing: _, ...before } = framedField.starting('inch')
    const read = framedField.read({ ...before, ...tray, frameFixing: 'all-round' }, 'inch', shop)
    expect(read.ok && read.value.frame.fixing).toBe('all-round')
  })

  test('glued all round it is warned of with its movement', () => {
    expect(built({ ...tray, staveFixing: 'all-round' }).warnings.join()).toMatch(/glued solid into its frame, grows \d/)
  })
})

describe('a field of cells', () => {
  // Common practice, no source: end grain moves both ways, so no two opposite members may hold it.
  test('is never glued at two opposite sides', () => {
    const choices = framedField.fields.flatMap((field) =>
      field.key === 'frameFixing' && field.kind === 'choice' ? field.choices : [],
    )
    expect(choices.map((choice) => choice.value)).toEqual(['dry', 'one-side', 'all-round'])
    expect(built().steps.find((step) => step.key === 'frame-glue-up')?.note).toMatch(/miters only.*Spacers/)
    // As an order of before had it.
    expect(built({ frameFixing: 'middle' }).steps).toEqual(built().steps)
  })

  // Common practice, no source.
  test('8 x 8 cells of 2 1/8 in make a 17 in field, and a face of 3 in with its tongue a frame cut 3 3/8 in wide', () => {
    const board = built({ fieldKind: 'cells', cell: '2 1/8', frameFace: '3', tongue: '3/8' })
    expect(length(board, 'field-across')).toBe(inches(17))
    expect(length(board, 'frame-stock')).toBe(inches(3.375))
    expect(board.title).toBe('Framed field 23" x 23" x 3/4", walnut and maple checkerboard in walnut')
  })

  test('nobody cuts on it, so a film is fine and is not warned of', () => {
    expect(built({ finish: 'oil_polyurethane' }).warnings.join()).not.toMatch(/flakes/)
    expect(built({ finish: 'oil_polyurethane', food: true }).warnings.join()).toMatch(/flakes/)
  })
})
