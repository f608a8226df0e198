import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { FINISH_CLASSES } from '../../../core/waits/finish-classes.ts'
import { GLUE_CLASSES } from '../../../core/waits/glue-classes.ts'
import { clockNames, clockOf, isDeadline, type ClockName, type Product } from '../../../core/waits/product.ts'
import { rateAt } from '../../../core/waits/cure-rate.ts'
import { recoatWindow, waitMinutes } from '../../../core/waits/wait-minutes.ts'

const product = (className: string, label: Product['label'] = {}): Product => ({
  class: className,
  name: className,
  label,
})
const exactly = (value: number) => ({ min: value, typical: value, max: value })
const air = (celsius: number, rh = 0.5) => ({ celsius, rh })
const fahrenheit = (degrees: number) => air((degrees - 32) / 1.8)

const typical = (of: Product, clock: ClockName, conditions: { celsius: number; rh: number }): number => {
  const wait = waitMinutes(of, clock, conditions)
  if (wait.kind !== 'wait') throw new Error(`not a wait but ${wait.kind}`)
  return wait.typical
}
const holdReason = (of: Product, clock: ClockName, conditions: { celsius: number; rh: number }) => {
  const wait = waitMinutes(of, clock, conditions)
  return wait.kind === 'hold' ? wait.reason : wait.kind
}

describe('urea glue with separate hardener', () => {
  const glue = product('urea_formaldehyde_separate')

  // Ciba-Geigy sheet reprinted in the Falco Construction Manual, app. D p. D-2: 5-6 h, 1 3/4 h, 1 h at 10, 20, 30 C.
  it('stays in clamps for the printed times at the printed temperatures', () => {
    expect(typical(glue, 'clampsOff', air(10))).toBe(330)
    expect(typical(glue, 'clampsOff', air(20))).toBe(105)
    expect(typical(glue, 'clampsOff', air(30))).toBe(60)
  })

  it('is read on the logarithm of time between them', () => {
    expect(typical(glue, 'clampsOff', air(15))).toBe(Math.ceil(Math.sqrt(330 * 105)))
    expect(typical(glue, 'clampsOff', air(25))).toBe(Math.ceil(Math.sqrt(105 * 60)))
  })

  it('is never read beyond the table: colder is a hold, warmer gets no more credit', () => {
    expect(holdReason(glue, 'clampsOff', air(9.9))).toBe('too-cold')
    expect(holdReason(product('urea_formaldehyde_separate', { coldestC: exactly(5) }), 'clampsOff', air(9))).toBe(
      'too-cold',
    )
    expect(typical(glue, 'clampsOff', air(36))).toBe(60)
  })

  // Same sheet: assembly 30 min at 10 C, 10 min at 20 C.
  // Same sheet: 5 min at 25 C. Warmer than the table goes on as between its two warmest points.
  it('has the printed assembly times, which go on getting shorter past the warm end', () => {
    expect(typical(glue, 'assembly', air(10))).toBe(30)
    expect(typical(glue, 'assembly', air(20))).toBe(10)
    expect(typical(glue, 'assembly', air(25))).toBe(5)
    expect(typical(glue, 'assembly', air(30))).toBe(2)
  })
})

describe('urea glue in powder', () => {
  // Polyvine Ltd, powdered resin wood glue: 18 h at 10 C, 3 h at 20 C; that maker allows 10 C.
  it('takes one maker’s times when the label says so', () => {
    const glue = product('urea_formaldehyde_powder', { clampsOff: exactly(180), coldestC: exactly(10) })
    expect(typical(glue, 'clampsOff', air(20))).toBe(180)
    expect(typical(glue, 'clampsOff', air(10))).toBe(18 * 60)
  })

  it('follows a doubling interval of about 3.9 C between 10 and 20 C, as derived from these two times', () => {
    const glue = product('urea_formaldehyde_powder', { clampsOff: exactly(10_000), coldestC: exactly(10) })
    expect(typical(glue, 'clampsOff', air(20 - 3.868))).toBeCloseTo(20_000, -2)
  })

  // The same maker; US-style labels that ask for 21-22 C are typed in.
  it('goes by its own table from 10 C on, until a label says otherwise', () => {
    expect(typical(product('urea_formaldehyde_powder'), 'clampsOff', air(20))).toBe(12 * 60)
    expect(typical(product('urea_formaldehyde_powder'), 'clampsOff', air(10))).toBe(72 * 60)
    const american = product('urea_formaldehyde_powder', { coldestC: exactly(21) })
    expect(holdReason(american, 'clampsOff', air(20))).toBe('too-cold')
  })
})

describe('PVA glue', () => {
  const typeOne = product('pva_type1')

  // Franklin Adhesives & Polymers, Winter Wood Gluing: twice the time for every 10 F below 70 F.
  it('needs twice the time for every 10 F below 70 F', () => {
    expect(typical(typeOne, 'clampsOff', fahrenheit(70)) / 60).toBeCloseTo(1, 1)
    expect(typical(typeOne, 'clampsOff', fahrenheit(60)) / 60).toBeCloseTo(2, 1)
    expect(typical(typeOne, 'clampsOff', fahrenheit(50)) / 60).toBeCloseTo(4, 0)
  })

  // WOOD magazine, Give the Glue Time: twice the time for every 15 F.
  it('follows the lenient rule where the maker enters it', () => {
    const lenient = product('pva_type1', { doublingC: exactly(15 / 1.8) })
    expect(typical(lenient, 'clampsOff', fahrenheit(55)) / 60).toBeCloseTo(2, 1)
  })

  it('gets no credit for warmth in its waits, but its open time runs out sooner', () => {
    expect(typical(typeOne, 'clampsOff', air(30))).toBe(60)
    expect(typical(typeOne, 'open', air(21 + 5.6))).toBe(2)
    expect(typical(typeOne, 'open', air(12))).toBe(5)
  })

  // Using Glue and Epoxy in a Cold Shop: chalk point about 55 F for Type II, 45 F for the waterproof grade.
  it('is held below its chalk point and says what would do', () => {
    const hold = waitMinutes(product('pva_type2'), 'clampsOff', air(12))
    expect(hold).toMatchObject({ kind: 'hold', reason: 'too-cold' })
    expect(hold.kind === 'hold' ? hold.message('inch') : '').toBe(
      'Too cold: pva_type2 does not set at 54 °F. It needs 55 °F in wood, glue and air, or what its label says.',
    )
    expect(holdReason(typeOne, 'clampsOff', air(8))).toBe('wait')
    expect(holdReason(typeOne, 'clampsOff', air(6))).toBe('too-cold')
  })
})

describe('epoxy', () => {
  // System Three, Gougeon Brothers, Henkel: time halves or doubles with every 18 F (10 C).
  it('doubles and halves every 10 C', () => {
    expect(typical(product('epoxy_fast'), 'clampsOff', air(22))).toBe(7 * 60)
    expect(typical(product('epoxy_fast'), 'clampsOff', air(12))).toBe(14 * 60)
    expect(typical(product('epoxy_fast'), 'clampsOff', air(32))).toBe(3.5 * 60)
  })

  it('never gets faster than twice, however hot the shop', () => {
    expect(typical(product('epoxy_fast'), 'clampsOff', air(40))).toBe(3.5 * 60)
  })

  // Our own reading: a joint that has set is strong enough to go on slowly; one that has not waits for warmth.
  it('that has set goes on in the cold, slower than at its coldest; what has not set stands still', () => {
    const slow = product('epoxy_slow')
    for (const clock of ['mayMachine', 'fullStrength'] as const) {
      expect(rateAt(slow, clock, 5, 0.5)).toBeGreaterThan(0)
      expect(rateAt(slow, clock, 5, 0.5)).toBeLessThan(rateAt(slow, clock, 16, 0.5))
    }
    expect(rateAt(slow, 'clampsOff', 5, 0.5)).toBe(0)
  })

  // Gougeon Brothers, Cold Weather Bonding: 4 C fast, 16 C slow, 21 C extra slow.
  it('has a coldest temperature by hardener', () => {
    expect(holdReason(product('epoxy_fast'), 'clampsOff', air(5))).toBe('wait')
    expect(holdReason(product('epoxy_slow'), 'clampsOff', air(15))).toBe('too-cold')
    expect(holdReason(product('epoxy_extra_slow'), 'clampsOff', air(20))).toBe('too-cold')
  })
})

describe('a glue without a published rule', () => {
  it('is planned with the slow end of its range when cold, and says so', () => {
    const wait = waitMinutes(product('hide_liquid'), 'clampsOff', air(12))
    expect(wait).toMatchObject({ kind: 'wait', typical: 24 * 60 })
    expect(wait.kind === 'wait' ? wait.notes : []).toHaveLength(1)
    expect(typical(product('hide_liquid'), 'clampsOff', air(20))).toBe(12 * 60)
  })
})

describe('water that has to leave the wood before planing', () => {
  // Siau (1984), from memory: bound-water diffusion at 10 % moisture has 35.6 kJ/mol, so half the rate 13 C colder.
  it('goes on leaving in the cold, more slowly, also below the chalk point', () => {
    expect(typical(product('pva_type2'), 'mayMachine', air(8)) / 60).toBeCloseTo(48, 0)
    const arrhenius = Math.exp((-35_600 / 8.314) * (1 / 281.15 - 1 / 294.15))
    expect(rateAt(product('pva_type2'), 'mayMachine', 8, 0.5)).toBeCloseTo(arrhenius, 1)
  })

  it('of hot hide glue gels in the cold too: warm parts are asked for, not a warm night', () => {
    expect(holdReason(product('hide_hot'), 'clampsOff', air(8))).toBe('wait')
  })
})

describe('resorcinol glue', () => {
  // Its sheet: working life 1.5 h at 80 F, 0.5 h at 100 F.
  it('has a third of its working life at 100 F of what it has at 80 F', () => {
    const at = (degrees: number): number => rateAt(product('resorcinol'), 'assembly', (degrees - 32) / 1.8, 0.5)
    expect(at(100) / at(80)).toBeCloseTo(3)
  })
})

describe('a finish', () => {
  it.each([
    ['oil_polyurethane', 20, 0.5, 1],
    ['oil_polyurethane', 15, 0.5, 1.5],
    ['oil_polyurethane', 20, 0.7, 1.5],
    ['oil_polyurethane', 15, 0.8, 2.5],
    ['tung_pure', 12, 0.5, 2.5],
    ['water_polyurethane', 15, 0.5, 2],
    ['shellac', 15, 0.5, 1.2],
    ['lacquer_precat', 21, 0.5, 1],
    ['mineral_oil_wax', 12, 0.8, 1],
  ])('%s at %d C and %d humidity takes %d times as long between coats', (name, celsius, rh, times) => {
    const reference = clockOf(product(name), 'recoatOpens')?.typical ?? 0
    expect(typical(product(name), 'recoatOpens', air(celsius, rh))).toBe(Math.ceil(reference * times))
    expect(typical(product(name), 'fullCure', air(celsius, rh))).toBe(clockOf(product(name), 'fullCure')?.typical)
  })

  // Our own reading: what is on goes on drying; below 10 C half as fast for every 10 C, and warmth is no penalty.
  it.each([
    ['oil_polyurethane', 0, 0.5, 5],
    ['oil_polyurethane', 33, 0.5, 1],
    ['oil_polyurethane', 20, 0.9, 4],
    ['mineral_oil_wax', 33, 0.5, 1],
  ])('that is on at %s %d C and %d humidity takes %d times as long', (name, celsius, rh, times) => {
    const reference = clockOf(product(name), 'recoatOpens')?.typical ?? 0
    expect(typical(product(name), 'recoatOpens', air(celsius, rh))).toBe(Math.ceil(reference * times))
  })

  it('keeps its recoat window as wide when it opens later', () => {
    expect(recoatWindow(product('oil_polyurethane'), air(20))).toMatchObject({
      opens: { typical: 360 },
      closesMin: 12 * 60,
    })
    expect(recoatWindow(product('oil_polyurethane'), air(15))).toMatchObject({
      opens: { typical: 540 },
      closesMin: 15 * 60,
    })
    expect(recoatWindow(product('shellac'), air(20))).toMatchObject({ closesMin: null })
    // Hotter than comfortable it closes sooner: half for every 10 C over 27 C, our own reading.
    expect(recoatWindow(product('wipe_on_polyurethane'), air(37))?.closesMin).toBe(12 * 60)
    expect(recoatWindow(product('pva_type2'), air(20))).toBeNull()
  })
})

describe('a label', () => {
  it('wins over the class, clock by clock, and is named as the source', () => {
    const tin = {
      ...product('oil_polyurethane', { recoatOpens: { min: 120, typical: 150, max: 180 } }),
      name: 'Gloss tin',
    }
    expect(clockOf(tin, 'recoatOpens')).toMatchObject({ typical: 150, standing: 'label', source: 'label of Gloss tin' })
    expect(clockOf(tin, 'fullCure')).toMatchObject({ standing: 'published' })
  })

  it('may print a table of its own', () => {
    const bottle: Product = {
      ...product('pva_type2', { clampsOff: exactly(40), coldestC: exactly(8) }),
      table: [
        { celsius: 8, minutes: 160 },
        { celsius: 20, minutes: 40 },
      ],
    }
    expect(typical(bottle, 'clampsOff', air(8))).toBe(160)
    expect(typical(bottle, 'clampsOff', air(14))).toBe(80)
    expect(typical(bottle, 'mayMachine', air(21))).toBe(24 * 60)
  })

  it('of an unknown class has no clocks rather than wrong ones', () => {
    expect(clockNames(product('cheese'))).toEqual([])
    expect(waitMinutes(product('cheese'), 'clampsOff', air(20))).toEqual({ kind: 'none' })
  })
})

describe('any product', () => {
  const anyProduct = fc.constantFrom(...[...GLUE_CLASSES, ...FINISH_CLASSES].map((one) => product(one.id)))
  const anyAir = fc.record({
    celsius: fc.double({ min: -10, max: 45, noNaN: true }),
    rh: fc.double({ min: 0, max: 1, noNaN: true }),
  })

  it('never cures faster in colder air, down to its hold', () => {
    fc.assert(
      fc.property(anyProduct, anyAir, fc.double({ min: 0, max: 30, noNaN: true }), (of, { celsius, rh }, colder) => {
        for (const clock of clockNames(of)) {
          if (isDeadline(clock)) continue
          expect(rateAt(of, clock, celsius - colder, rh)).toBeLessThanOrEqual(rateAt(of, clock, celsius, rh) + 1e-12)
        }
      }),
    )
  })

  it('answers with a hold exactly where its rate is zero, else with an ordered range', () => {
    fc.assert(
      fc.property(anyProduct, anyAir, (of, conditions) => {
        for (const clock of clockNames(of)) {
          const wait = waitMinutes(of, clock, conditions)
          if (!isDeadline(clock)) {
            expect(wait.kind === 'hold').toBe(rateAt(of, clock, conditions.celsius, conditions.rh) === 0)
          }
          if (wait.kind !== 'wait') continue
          expect(wait.min).toBeLessThanOrEqual(wait.typical)
          expect(wait.typical).toBeLessThanOrEqual(wait.max)
          expect(Number.isFinite(wait.max)).toBe(true)
        }
      }),
    )
  })

  it('has deadlines that never get longer when it is warmer', () => {
    fc.assert(
      fc.property(anyProduct, anyAir, fc.double({ min: 0, max: 30, noNaN: true }), (of, { celsius, rh }, warmer) => {
        for (const clock of clockNames(of).filter(isDeadline))
          expect(rateAt(of, clock, celsius + warmer, rh)).toBeGreaterThanOrEqual(rateAt(of, clock, celsius, rh) - 1e-12)
      }),
    )
  })

  it('is never ready sooner than at reference, but for the two that makers credit with warmth', () => {
    fc.assert(
      fc.property(anyProduct, anyAir, (of, { celsius, rh }) => {
        for (const clock of clockNames(of).filter((name) => !isDeadline(name))) {
          const credit = /^epoxy|separate/.test(of.class) ? 2 : 1
          expect(rateAt(of, clock, celsius, rh)).toBeLessThanOrEqual(credit + 1e-12)
        }
      }),
    )
  })
})
