import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { MoneyEntry } from '../../../core/money/ledger.ts'
import { taxed, type TaxRate } from '../../../core/money/sales-tax.ts'
import { goodsSold } from '../../../core/year/goods-sold.ts'
import { agedDues, type Due } from '../../../core/year/owed.ts'
import { receiptsOf, taxDueFor, type YearOrder } from '../../../core/year/tax-falls.ts'
import { suppliesInYear, type YearSupply } from '../../../core/year/supplies-in-year.ts'
import { moneyOfYear, yearOf, type YearInput } from '../../../core/year/year.ts'

const rate = (percent: number, name = 'Sales tax'): TaxRate => ({ id: name, name, rate: percent * 10_000 })
const bill = (netMinor: number, taxes: readonly TaxRate[]) =>
  taxed([{ minor: netMinor, taxed: true }], { taxes, included: false, roundedBy: 'paper' })

const anOrder = (changes: Partial<YearOrder> = {}): YearOrder => ({
  id: 'o1',
  number: 1,
  customer: 'Ada Quist',
  bill: bill(38_000, [rate(8)]),
  agreedOn: '2026-10-01',
  handedOverOn: '2026-12-20',
  calledOffOn: null,
  ...changes,
})

let last = 0
const entry = (day: string, minor: number, changes: Partial<MoneyEntry> = {}): MoneyEntry => ({
  id: `e${++last}`,
  commissionId: 'o1',
  atMs: last,
  day,
  kind: 'payment',
  minor,
  how: 'card',
  reference: '',
  takesBack: null,
  ...changes,
})

const aYear = (changes: Partial<YearInput> = {}): YearInput => ({
  year: 2026,
  money: { accounting: 'cash', taxFallsOn: 'hand-over', overheadYearMinor: null, handsOnHoursYear: null },
  orders: [],
  entries: [],
  credits: [],
  work: [],
  sold: [],
  boards: [],
  supplies: [],
  typed: {},
  ...changes,
})

const wholeYear = (input: YearInput) => yearOf(moneyOfYear(input), input)

describe('tax in payments', () => {
  test('380.00 and 30.40 tax, deposit 190.00: 14.07 in it, 16.33 in the rest', () => {
    // E30 of the reference: 190.00 x 30.40 / 410.40 = 14.074, worked out by hand.
    const receipts = receiptsOf(anOrder(), [entry('2026-10-01', 19_000), entry('2026-12-20', 22_040)])
    expect(receipts.map(({ taxMinor }) => taxMinor)).toEqual([1_407, 1_633])
  })

  test.each([
    ['order', ['2026-10-01']],
    ['hand-over', ['2026-12-20']],
    ['last-payment', ['2027-01-05']],
    ['every-payment', ['2026-10-01', '2027-01-05']],
  ] as const)('falls due on the %s as the almanac says', (on, days) => {
    const paid = [entry('2026-10-01', 19_000), entry('2027-01-05', 22_040)]
    const dues = taxDueFor(anOrder(), paid, on)
    expect(dues.map(({ day }) => day)).toEqual(days)
    expect(dues.reduce((sum, { minor }) => sum + minor, 0)).toBe(3_040)
  })

  test('an order that is not paid in full, not handed over or called off owes none yet', () => {
    expect(taxDueFor(anOrder(), [entry('2026-10-01', 19_000)], 'last-payment')).toEqual([])
    expect(taxDueFor(anOrder({ handedOverOn: null }), [], 'hand-over')).toEqual([])
    expect(taxDueFor(anOrder({ calledOffOn: '2026-11-01' }), [], 'order')).toEqual([])
  })

  test('the parts add up to the whole however often somebody pays', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9_000 }), { minLength: 1, maxLength: 12 }), (amounts) => {
        const total = amounts.reduce((sum, each) => sum + each, 0)
        const order = anOrder({ bill: bill(total, [rate(5, 'GST'), rate(9.975, 'QST')]) })
        const whole = order.bill!
        const paid = [
          ...amounts.map((minor) => entry('2026-11-01', minor)),
          entry('2026-12-01', whole.totalMinor - total),
        ]
        expect(receiptsOf(order, paid).reduce((sum, { taxMinor }) => sum + taxMinor, 0)).toBe(whole.taxMinor)
        for (const { name, minor, baseMinor } of whole.taxes) {
          const parts = taxDueFor(order, paid, 'every-payment').filter((due) => due.name === name)
          expect(parts.reduce((sum, due) => sum + due.minor, 0)).toBe(minor)
          expect(parts.reduce((sum, due) => sum + due.baseMinor, 0)).toBe(baseMinor)
        }
      }),
    )
  })
})

describe('what goods cost', () => {
  test('620.00, bought 2,890.50 less 75.00 own use, supplies 410.20, end 845.00: 3,845.70 and 3,000.70', () => {
    // E32 of the reference, by the lines of Schedule C, part III (IRS, Form 1040).
    const { sumMinor, costMinor } = goodsSold(2026, [], [], {
      'inventory-begin': 62_000,
      purchases: 289_050,
      'own-use': 7_500,
      supplies: 41_020,
      'inventory-end': 84_500,
    })
    expect([sumMinor, costMinor]).toEqual([384_570, 300_070])
  })

  test('boards in the book stand in for what was not typed', () => {
    const board = (addedOn: string, goneOn: string | null, minor: number | null, isOffcut = false) => ({
      ...{ addedOn, goneOn, minor, isOffcut },
    })
    const goods = goodsSold(
      2026,
      [
        board('2025-11-02', '2026-02-01', 10_000),
        board('2026-02-01', null, 2_500, true),
        board('2026-03-01', '2026-09-01', 8_000),
        board('2026-12-31', null, 6_000),
        board('2027-01-01', null, 9_000),
        board('2026-05-01', null, null),
        board('2025-01-01', '2025-12-31', 4_000),
      ],
      [],
      {},
    )
    expect(goods).toMatchObject({ beginMinor: 10_000, purchasesMinor: 14_000, endMinor: 8_500, boardsWithoutCost: 1 })
    expect(goods.costMinor).toBe(15_500)
    expect(goods.fromBook).toEqual(['inventory-begin', 'purchases', 'supplies', 'inventory-end'])
  })
})

describe('supplies', () => {
  // Oil at 24.00 a liter: 500 ml counted in 2025, 100 ml used by then and 150 ml after; 1 l counted on top of what was left.
  const oil: YearSupply = {
    price: { minor: 2_400, amount: 1_000 },
    counts: [
      { atMin: 1, day: '2025-11-01', amount: 500 },
      { atMin: 4, day: '2026-06-01', amount: 1_250 },
      { atMin: 8, day: '2027-02-01', amount: 2_000 },
    ],
    uses: [
      { atMin: 2, day: '2025-12-01', amount: 100 },
      { atMin: 3, day: '2026-03-01', amount: 150 },
      { atMin: 5, day: '2026-09-01', amount: 50 },
    ],
  }

  test('that are counted are bought, used and on hand', () => {
    expect(suppliesInYear(2026, [oil])).toEqual({
      ...{ beginMinor: 960, boughtMinor: 2_400, endMinor: 2_880, usedMinor: 480, withoutPrice: 0 },
    })
    const goods = goodsSold(2026, [], [oil], {})
    expect(goods).toMatchObject({ beginMinor: 960, suppliesMinor: 2_400, endMinor: 2_880, costMinor: 480 })
    expect(goodsSold(2026, [], [oil], { supplies: 5_000, 'inventory-end': 0 })).toMatchObject({
      ...{ suppliesMinor: 5_000, endMinor: 0, fromBook: ['inventory-begin', 'purchases'] },
    })
  })

  test('without a price are said to have none', () => {
    expect(suppliesInYear(2026, [{ ...oil, price: null }])).toMatchObject({ usedMinor: 0, withoutPrice: 1 })
    expect(suppliesInYear(2024, [{ ...oil, price: null }])).toMatchObject({ withoutPrice: 0 })
  })

  test('end one year as they begin the next, and none is used that was not there', () => {
    const event = fc.record({
      month: fc.integer({ min: 1, max: 36 }),
      amount: fc.integer({ min: 0, max: 3_000 }),
      isCount: fc.boolean(),
    })
    fc.assert(
      fc.property(fc.array(event, { maxLength: 20 }), (events) => {
        const at = events.map(({ month, amount }) => ({
          ...{ atMin: month, amount },
          day: `${2025 + Math.floor((month - 1) / 12)}-${String(((month - 1) % 12) + 1).padStart(2, '0')}-15`,
        }))
        const supply: YearSupply = {
          price: { minor: 777, amount: 100 },
          counts: at.filter((_, index) => events[index]?.isCount),
          uses: at.filter((_, index) => !events[index]?.isCount),
        }
        const years = [2025, 2026, 2027].map((year) => suppliesInYear(year, [supply]))
        for (const [index, { beginMinor, boughtMinor, endMinor, usedMinor }] of years.entries()) {
          expect(beginMinor).toBe(years[index - 1]?.endMinor ?? 0)
          expect(beginMinor + boughtMinor - usedMinor).toBe(endMinor)
          expect(usedMinor).toBeGreaterThanOrEqual(-1)
        }
      }),
    )
  })
})

describe('a year', () => {
  const orders = [anOrder(), anOrder({ id: 'o2', number: 2, handedOverOn: null, bill: bill(50_000, []) })]
  const entries = [
    entry('2025-12-31', 1_000),
    entry('2026-10-01', 19_000, { how: 'cash' }),
    entry('2026-12-20', 21_040),
    entry('2026-12-20', 500, { kind: 'tip', how: 'cash' }),
    entry('2026-12-30', 10_000, { commissionId: 'o2' }),
    entry('2026-12-31', 2_000, { commissionId: 'o2', kind: 'refund' }),
  ]

  test('by cash, income is what was paid less the tax in it', () => {
    const year = wholeYear(aYear({ orders, entries }))
    // By hand: 190.00 + 210.40 + 5.00 + 100.00 in, 20.00 back; tax 30.40 less the 0.74 of 2025's payment of 10.00.
    expect(year.total).toMatchObject({
      receivedMinor: 50_540,
      givenBackMinor: 2_000,
      taxMinor: 2_966,
      incomeMinor: 45_574,
    })
    expect(year.months[9]).toMatchObject({ receivedMinor: 19_000, givenBackMinor: 0 })
    expect(year.byHow).toEqual([
      { how: 'cash', minor: 19_500 },
      { how: 'card', minor: 29_040 },
    ])
    expect([year.grossMinor, year.returnsMinor]).toEqual([47_574, 2_000])
    expect(year.depositsHeldMinor).toBe(8_000)
    expect(year.tipsMinor).toBe(500)
    expect(year.taxes).toEqual([{ name: 'Sales tax', rate: 80_000, baseMinor: 38_000, minor: 3_040 }])
  })

  test('by accrual, income is what was handed over, less what was credited', () => {
    const credits = [
      {
        day: '2026-12-28',
        netMinor: 3_752,
        taxes: [{ name: 'Sales tax', rate: 80_000, baseMinor: 3_752, minor: 300 }],
      },
    ]
    const year = wholeYear(aYear({ orders, entries, credits, money: { ...aYear().money, accounting: 'accrual' } }))
    expect(year.total.incomeMinor).toBe(38_000 + 500 - 3_752)
    expect([year.grossMinor, year.returnsMinor]).toEqual([38_500, 3_752])
    expect(year.taxes).toEqual([{ name: 'Sales tax', rate: 80_000, baseMinor: 34_248, minor: 2_740 }])
  })

  test('months add up to the year, whatever was paid when', () => {
    const days = fc.record({
      month: fc.integer({ min: 1, max: 12 }),
      day: fc.integer({ min: 1, max: 28 }),
      minor: fc.integer({ min: 1, max: 90_000 }),
      back: fc.boolean(),
    })
    fc.assert(
      fc.property(fc.array(days, { maxLength: 20 }), (some) => {
        const paid = some.map(({ month, day, minor, back }) =>
          entry(`2026-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`, minor, {
            kind: back ? 'refund' : 'payment',
          }),
        )
        const { months, total } = wholeYear(aYear({ orders: [anOrder()], entries: paid }))
        for (const name of ['receivedMinor', 'givenBackMinor', 'taxMinor', 'incomeMinor'] as const)
          expect(months.reduce((sum, month) => sum + month[name], 0)).toBe(total[name])
      }),
    )
  })

  test('hours carry 5,869.57 of overhead where 5,712.00 was spent', () => {
    // E33 of the reference: 5,400.00 a year over 644 h, 700 h logged.
    const { overhead } = wholeYear(
      aYear({
        money: { ...aYear().money, overheadYearMinor: 540_000, handsOnHoursYear: 644 },
        work: [{ day: '2026-05-01', minutes: 700 * 60 }],
        typed: { 'overhead-spent': 571_200 },
      }),
    )
    expect(overhead).toEqual({ appliedMinor: 586_957, spentMinor: 571_200 })
  })

  test('an hour earns what is left of the price over what was bought, where the hours are known', () => {
    // E9 of the reference: 375.25 less 81.57 bought, 450 minutes: 293.68 for 7.5 h.
    const { earned } = wholeYear(
      aYear({
        sold: [
          { construction: 'box', count: 1, netMinor: 37_525, boughtMinor: 8_157, minutes: 450, hoursKnown: true },
          // Of another box half an hour is in the log: by that it would have earned 600.00 an hour.
          { construction: 'box', count: 3, netMinor: 30_000, boughtMinor: 0, minutes: 30, hoursKnown: false },
          { construction: 'shelf', count: 2, netMinor: 9_000, boughtMinor: 0, minutes: 0, hoursKnown: false },
        ],
      }),
    )
    expect(earned).toEqual([
      {
        ...{ construction: 'box', pieces: 1, minutes: 450, earnedMinor: 29_368, perHourMinor: 3_916 },
        leftOut: { pieces: 3, earnedMinor: 30_000 },
      },
      {
        ...{ construction: 'shelf', pieces: 0, minutes: 0, earnedMinor: 0, perHourMinor: null },
        leftOut: { pieces: 2, earnedMinor: 9_000 },
      },
    ])
  })
})

describe('what is owed', () => {
  test('is sorted by how long: up to 30 days, up to 60, longer', () => {
    const due = (number: number, since: string, minor: number): Due => ({
      ...{ commissionId: `o${number}`, number, customer: '', reach: '', kind: 'balance', since, minor },
    })
    const ages = agedDues(
      [
        due(1, '2026-11-28', 100),
        due(2, '2026-10-29', 200),
        due(3, '2026-10-28', 300),
        due(4, '2026-09-29', 400),
        due(5, '2026-09-28', 500),
      ],
      '2026-11-28',
    )
    expect(
      ages.map(({ upTo, totalMinor, dues }) => [upTo, totalMinor, dues.map(({ number, days }) => [number, days])]),
    ).toEqual([
      [
        30,
        300,
        [
          [2, 30],
          [1, 0],
        ],
      ],
      [
        60,
        700,
        [
          [4, 60],
          [3, 31],
        ],
      ],
      [null, 500, [[5, 61]]],
    ])
  })
})
