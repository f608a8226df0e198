import { expect, test } from 'vitest'
import { creditOf } from '../../core/money/credit.ts'
import { isoCurrency } from '../../core/money/currency.ts'
import { depositOf, keptByUniformCode, keptWhenCalledOff } from '../../core/money/deposit.ts'
import { moneyStanding, type MoneyEntry } from '../../core/money/ledger.ts'
import { mailOrderDays } from '../../core/money/mail-order-rule.ts'
import { readMoney } from '../../core/money/money.ts'
import { overheadFor } from '../../core/money/overhead.ts'
import { parcelWeight, type CarrierRule } from '../../core/money/parcel.ts'
import {
  boughtIn,
  contributionOf,
  laborFor,
  priceOf,
  profitOn,
  reached,
  type PriceInput,
} from '../../core/money/price.ts'
import { shareOf } from '../../core/money/rate.ts'
import { cashDifference, taxed, taxInPayment, type TaxRules } from '../../core/money/sales-tax.ts'
import { sharedOut } from '../../core/money/shared-out.ts'
import { costOfSupply } from '../../core/timber/supply-price.ts'
import { woodCost } from '../../core/timber/wood-cost.ts'
import { NM3_PER_BOARD_FOOT } from '../../core/wood/board-measure.ts'
import { goodsSold } from '../../core/year/goods-sold.ts'
import { calendarText } from '../../desk/open-formats/calendar-text.ts'
import { writeCsv } from '../../desk/open-formats/write-csv.ts'

// Forty cases of prices, taxes, papers and formats whose results are known from outside or worked out by hand; money in hundredths
// unless said. "derived": by hand, from the rule that is named. "read": in the source itself; "quoted by others": where somebody else prints
// it; "from memory": the source was not at hand.

const percent = (much: number): number => Math.round(much * 10_000)
const minor = (amount: number): number => Math.round(amount * 100)
const overhead = { yearMinor: minor(5_400), yearMinutes: 46 * 20 * 0.7 * 60 }
const rules = (rates: readonly number[], more: Partial<TaxRules> = {}): TaxRules => ({
  taxes: rates.map((rate, index) => ({ id: String(index), name: 'Tax', rate: percent(rate) })),
  ...{ included: false, roundedBy: 'paper', ...more },
})
const on = (amount: number, rate: number, more: Partial<TaxRules> = {}) =>
  taxed([{ minor: minor(amount), taxed: true }], rules([rate], more))
const inside = (amount: number, rate: number) => {
  const { taxMinor, netMinor } = on(amount, rate, { included: true })
  return [taxMinor, netMinor]
}
const many = (count: number, amount: number, rate: number) =>
  (['paper', 'line'] as const).map(
    (roundedBy) =>
      taxed(
        Array.from({ length: count }, () => ({ minor: minor(amount), taxed: true })),
        rules([rate], { roundedBy }),
      ).taxMinor,
  )

/** 6.40 board feet at 9.75 with 15 % lost. */
const wood = (net: bigint, waste: number): number => woodCost(net, { minor: 975, per: 'board-foot' }, waste)
const feet = (hundredths: bigint): bigint => (hundredths * NM3_PER_BOARD_FOOT) / 100n
const supplies =
  costOfSupply(180, { minor: 1_320, amount: 1_000 }) + costOfSupply(95, { minor: 2_400, amount: 1_000 }) + 350
const board: PriceInput = {
  woodMinor: wood(feet(640n), 0.15),
  hardwareMinor: 0,
  consumables: { kind: 'priced', minor: supplies },
  work: [{ who: 'maker', minutes: 385, perHourMinor: 2_800 }],
  overhead,
  remakes: 0,
  taxInside: 0,
  profit: { kind: 'margin', rate: percent(20) },
  options: [],
  rounding: { stepMinor: 500 },
}
const job = (materials: number, pay: number, markUp: number, rate: number, minutes = 60) =>
  priceOf({
    ...board,
    woodMinor: minor(materials),
    consumables: { kind: 'priced', minor: 0 },
    work: [{ who: 'maker', minutes, perHourMinor: minor(pay) }],
    overhead: { rate: percent(rate) },
    profit: { kind: 'mark-up', rate: percent(markUp) },
    rounding: { stepMinor: 1 },
  })
const PRICE = minor(375.25)

let entries = 0
const paid = (amount: number): MoneyEntry => ({
  ...{ id: `e${++entries}`, commissionId: 'o', atMs: 0, day: '2026-12-01', kind: 'payment', minor: minor(amount) },
  ...{ how: 'card', reference: '', takesBack: null },
})
const standing = (total: number, ...amounts: number[]) => {
  const terms = { totalMinor: minor(total), depositAskedMinor: minor(205), stage: 'agreed', keptMinor: 0 } as const
  const { state, owedMinor, depositOpenMinor } = moneyStanding(terms, amounts.map(paid))
  return [state, owedMinor, depositOpenMinor]
}
const us: CarrierRule = { divisor: 139, sides: 'up', weightStep: 1, weights: 'up' }
const typed = (text: string, code: string) => {
  const read = readMoney(text, isoCurrency(code))
  return read.ok ? read.value : read.problems[0]?.code
}
const summary = 'Promised: 2 end-grain boards, walnut and maple, for Brøgger & Søn – Skjærefjøl til kjøkkenet'
const linesOf = (text: string): string[] => text.split('\r\n')
const at = (instant: string): number => Date.parse(instant) / 60_000

/** Number, source, what the product works out, what it has to be. */
const CASES: readonly (readonly [number: number, source: string, worked: () => unknown, expected: unknown])[] = [
  [
    1,
    'derived: predetermined overhead rate, 5,400.00 over 644 h; 18,032.00 wanted of them',
    () => [overheadFor(60 * 10_000, overhead), overheadFor(385, overhead), minor(18_032) / 644],
    [minor(83_850.93), minor(53.8), minor(28)],
  ],
  [
    2,
    'textbook exercise on the overhead rate (Casual Furniture): from memory',
    () => {
      const yearMinor = [1_000, 500, 40_000, 16_500, 12_000, 30_000].reduce((all, each) => all + minor(each), 0)
      return [yearMinor, overheadFor(60, { yearMinor, yearMinutes: 600_000 })]
    },
    [minor(100_000), minor(10)],
  ],
  [
    3,
    "Woodworker's Journal 2008, unrounded: read",
    () => {
      const price = job(39, 39, 10, 15, 150)
      return [...price.lines.map((line) => line.minor), price.costMinor, price.askedMinor]
    },
    [3_900, 9_750, 2_048, 1_570, 15_698, 17_268],
  ],
  [
    4,
    "a makers' forum, materials and labor, 20 % on them, then 20 %: read",
    () =>
      [100, 300].flatMap((materials) => {
        const price = job(materials, 140, 20, 20)
        return [price.askedMinor, price.lines.find(({ kind }) => kind === 'overhead')?.minor]
      }),
    [minor(345.6), minor(48), minor(633.6), minor(88)],
  ],
  [
    5,
    'derived: materials, labor, overhead, margin, step',
    () => {
      const price = priceOf(board)
      const { margin, markUp } = reached(price.askedMinor, price.costMinor)
      return [...price.lines.map((line) => line.minor), price.costMinor, price.askedMinor, margin, markUp]
    },
    [7_341, 816, 17_967, 5_380, 7_876, 120, minor(315.04), minor(395), 202_430, 253_809],
  ],
  [
    6,
    'derived: mark-up = margin / (1 - margin)',
    () =>
      [200_000, 250_000, 300_000, 333_333, 400_000, 500_000].map((rate) =>
        Math.round(profitOn(minor(1_000_000), { kind: 'margin', rate }) / 10_000),
      ),
    [2_500, 3_333, 4_286, 5_000, 6_667, 10_000],
  ],
  [
    7,
    'derived: 395.00 less 5 %',
    () => {
      const off = shareOf(minor(395), percent(5))
      return [off, minor(395) - off, reached(minor(395) - off, priceOf(board).costMinor).margin]
    },
    [minor(19.75), PRICE, 160_453],
  ],
  [
    8,
    'derived: contribution margin (managerial accounting textbooks)',
    () => {
      const left = contributionOf(PRICE, boughtIn(priceOf(board)), 385)
      return [left.minor, left.perHourMinor, Math.ceil(overhead.yearMinor / left.minor)]
    },
    [minor(293.68), minor(45.77), 19],
  ],
  [
    9,
    'derived: the same job took 450 minutes',
    () => {
      const carried = overheadFor(450, overhead)
      const left = contributionOf(minor(293.68), carried, 450)
      return [carried, left.minor, left.perHourMinor]
    },
    [minor(62.89), minor(230.79), minor(30.77)],
  ],
  [
    10,
    'derived: the same job at 385 and at 470 minutes',
    () =>
      [385, 470].flatMap((minutes) => {
        const price = priceOf({ ...board, work: [{ who: 'maker', minutes, perHourMinor: 2_800 }] })
        return [price.askedMinor, price.askedMinor - (price.lines.at(-1)?.minor ?? 0)]
      }),
    [minor(395), minor(393.8), minor(460), minor(458.23)],
  ],
  [11, 'derived: 15 % on top is 13.04 % lost', () => wood((feet(640n) * 115n) / 100n, 0), minor(71.76)],
  [
    12,
    'derived: largest remainder',
    () => sharedOut(minor(2_135), [1n, 1n, 1n, 1n, 1n, 1n]),
    [35_584, 35_584, 35_583, 35_583, 35_583, 35_583],
  ],
  [
    13,
    'Kentucky Department of Revenue on the end of the penny: read',
    () => {
      const all = taxed(
        [1.99, 2.39, 4.99, 3.99].map((amount, index) => ({ minor: minor(amount), taxed: index < 2 })),
        rules([6]),
      )
      const difference = cashDifference(all.totalMinor, 5)
      return [all.taxMinor, all.totalMinor, all.totalMinor + difference, difference]
    },
    [26, 1_362, 1_360, -2],
  ],
  [
    14,
    'Canada, Budget 2012 (one-cent coin): read',
    () => {
      const { totalMinor } = on(4.69, 5)
      return [totalMinor, totalMinor + cashDifference(totalMinor, 5)]
    },
    [492, 490],
  ],
  [
    15,
    'derived: Streamlined Sales and Use Tax Agreement, section 324 (third decimal, up when it is greater than four)',
    () =>
      [
        [19.99, 8.25],
        [50, 8.25],
        [10.35, 10],
        [1, 4.5],
        [0.62, 7.25],
      ].map(([amount = 0, rate = 0]) => on(amount, rate).taxMinor),
    [165, 413, 104, 5, 4],
  ],
  [16, 'derived: halves away from zero, below zero too', () => on(-185, 7.25).taxMinor, -1_341],
  [
    17,
    'derived: by paper (EN 16931, BR-CO-17) and by line',
    () => [many(4, 9.99, 8.875), many(5, 12.45, 21)],
    [
      [355, 356],
      [1_307, 1_305],
    ],
  ],
  [
    18,
    'Paradise Valley AZ for 9.68 %, the others by price x r / (1 + r): read',
    () => [inside(100, 9.68), inside(249, 19), inside(180, 21), inside(99, 20)],
    [
      [883, 9_117],
      [3_976, 20_924],
      [3_124, 14_876],
      [1_650, 8_250],
    ],
  ],
  [
    19,
    'derived: two taxes on one base (Quebec)',
    () => {
      const all = taxed([{ minor: minor(100), taxed: true }], rules([5, 9.975]))
      return [...all.taxes.map((tax) => tax.minor), all.totalMinor]
    },
    [500, 998, 11_498],
  ],
  [
    20,
    'New York TB-ST-838, service and delivery are taxed with the goods: read',
    () =>
      taxed(
        [499.95, 30, 20].map((amount) => ({ minor: minor(amount), taxed: true })),
        rules([8]),
      ).taxes[0]?.baseMinor,
    minor(549.95),
  ],
  [
    21,
    'derived: 375.25 at 7.25 %',
    () => {
      const { taxMinor, totalMinor } = on(375.25, 7.25)
      return [taxMinor, totalMinor]
    },
    [minor(27.21), minor(402.46)],
  ],
  [
    22,
    'derived: half down, and half up to the next 5.00',
    () => [1, 500].map((step) => depositOf(minor(402.46), percent(50), step)).flatMap((half) => [half, 40_246 - half]),
    [minor(201.23), minor(201.23), minor(205), minor(197.46)],
  ],
  [
    23,
    'derived: an odd cent is asked first',
    () => [depositOf(minor(285.55), percent(50)), minor(285.55) - depositOf(minor(285.55), percent(50))],
    [minor(142.78), minor(142.77)],
  ],
  [
    24,
    'derived: stages by largest remainder',
    () => sharedOut(minor(1_999.99), [10n, 40n, 25n, 25n]),
    [20_000, 79_999, 50_000, 50_000],
  ],
  [
    25,
    'derived: a change of 45.00 after 205.00 was paid',
    () => {
      const all = on(440, 7.25)
      return [all.taxMinor, all.totalMinor, standing(all.totalMinor / 100, 205)[1]]
    },
    [minor(31.9), minor(471.9), minor(266.9)],
  ],
  [
    26,
    'derived: hours and wood that serves nothing else',
    () => keptWhenCalledOff(minor(205), { boughtMinor: minor(33.41), laborMinor: laborFor(95, 2_800) }),
    { keptMinor: minor(77.74), backMinor: minor(127.26) },
  ],
  [
    27,
    'Uniform Commercial Code 2-718(2)(b), 20 % of the price or $500: read',
    () => [keptByUniformCode(minor(380), minor(190)), minor(190) - keptByUniformCode(minor(380), minor(190))],
    [minor(76), minor(114)],
  ],
  [
    28,
    'derived: states of money',
    () => [standing(402.46, 100), standing(402.46, 100, 105), standing(402.46, 100, 105, 197.46)],
    [
      ['deposit-due', minor(302.46), minor(105)],
      ['in-order', minor(197.46), 0],
      ['paid', 0, 0],
    ],
  ],
  [
    29,
    'derived: a credit of 37.52 by the rates of its invoice',
    () => {
      const credit = creditOf(minor(37.52), { bill: on(375.25, 7.25), saidMinor: PRICE, credited: [] })
      return [credit.taxMinor, credit.totalMinor, minor(402.46) - credit.totalMinor]
    },
    [minor(2.72), minor(40.24), minor(362.22)],
  ],
  [
    30,
    'derived: tax in proportion (Directive 2006/112/EC, Article 65)',
    () => {
      const all = on(380, 8)
      const inDeposit = taxInPayment(minor(190), all)
      return [inDeposit, all.taxMinor - inDeposit]
    },
    [minor(14.07), minor(16.33)],
  ],
  [
    31,
    'derived: 197.46 in coins of 0.05',
    () => [cashDifference(minor(197.46), 5), minor(197.46) + cashDifference(minor(197.46), 5)],
    [-1, minor(197.45)],
  ],
  [
    32,
    'derived: Schedule C, part III, lines 40 and 42',
    () => {
      const { sumMinor, costMinor } = goodsSold(2026, [], [], {
        ...{ 'inventory-begin': minor(620), purchases: minor(2_890.5), 'own-use': minor(75) },
        ...{ supplies: minor(410.2), 'inventory-end': minor(845) },
      })
      return [sumMinor, costMinor]
    },
    [minor(3_845.7), minor(3_000.7)],
  ],
  [
    33,
    'derived: applied against actual overhead',
    () => [overheadFor(700 * 60, overhead), overheadFor(700 * 60, overhead) - minor(5_712)],
    [minor(5_869.57), minor(157.57)],
  ],
  [
    34,
    'UPS and DHL pages, length x width x height over the divisor: read',
    () => [
      parcelWeight([18, 14, 10], 0, 0, us).dimensional,
      parcelWeight([8, 8, 6], 0, 0, { ...us, divisor: 166, weights: 'nearest' }).dimensional,
      parcelWeight([50, 50, 50], 0, 0, { ...us, divisor: 5_000, weightStep: 0.5 }).dimensional,
    ],
    [19, 2, 25],
  ],
  [
    35,
    'derived: every started inch up, the greater weight is billed',
    () => parcelWeight([16, 12, 1.5], 2, 9.3, us),
    { sides: [20, 16, 6], dimensional: 14, billed: 14 },
  ],
  [
    36,
    '16 CFR 435.2: quoted by others',
    () => mailOrderDays('2026-11-28', null),
    { shipBy: '2026-12-28', silenceUntil: '2027-01-27' },
  ],
  [
    37,
    'RFC 5545, section 3.1 (folding at 75 octets, never inside a character) and 3.3.11 (commas): from memory',
    () => {
      const lines = linesOf(calendarText('Shop', [{ id: 'a', sequence: 0, summary, when: { day: '2026-12-24' } }], 0))
      const first = lines.findIndex((line) => line.startsWith('SUMMARY:'))
      const [line = '', rest = ''] = lines.slice(first, first + 2)
      return { octets: Buffer.byteLength(line), ends: line.slice(-3), then: rest.slice(0, 3) }
    },
    { octets: 74, ends: '& S', then: ' øn' },
  ],
  [
    38,
    'RFC 5545, section 3.6.1 (DTEND is exclusive) and 3.3.5 (UTC): from memory',
    () =>
      linesOf(
        calendarText(
          'Shop',
          [
            { id: 'a', sequence: 0, summary: 'Promised', when: { day: '2026-12-24' } },
            {
              ...{ id: 'b', sequence: 0, summary: 'Glue' },
              when: { from: at('2026-11-28T18:00:00-05:00'), to: at('2026-11-29T06:30:00-05:00') },
            },
          ],
          0,
        ),
      ).filter((line) => /^DT(START|END)/.test(line)),
    ['DTSTART;VALUE=DATE:20261224', 'DTEND;VALUE=DATE:20261225', 'DTSTART:20261128T230000Z', 'DTEND:20261129T113000Z'],
  ],
  [
    39,
    'OWASP ASVS 1.2.10 (formula injection): read; RFC 4180: from memory',
    () => writeCsv({ columns: ['a', 'b', 'c'], rows: [['=SUM(A1)', `O'Neil, "Bo"`, -1_850n]] }, 2),
    `\ufeffa,b,c\r\n'=SUM(A1),"O'Neil, ""Bo""",-18.50\r\n`,
  ],
  [
    40,
    'ISO 4217, minor units, as the package currency-codes lists them: read',
    () => [typed('1.250', 'KWD'), typed('1,250.50', 'USD'), typed('12500', 'JPY')],
    [1_250, 125_050, 12_500],
  ],
]

test('all forty are here, each once and with its source', () => {
  expect(CASES.map(([number]) => number)).toEqual(Array.from({ length: 40 }, (_, index) => index + 1))
  for (const [, source] of CASES) expect(source).toMatch(/^derived: .|: (read|quoted by others|from memory)$/)
})

test.for(CASES)('E%i: %s', ([, , worked, expected]) => {
  expect(worked()).toEqual(expected)
})
