import type { CsvTable } from '../open-formats/write-csv.ts'
import { writeRate } from '../../core/money/rate.ts'
import type { OpenShop } from '../open-shop.ts'
import { yearView } from './year-view.ts'

/** A year as one table of lines, each with its amount; hours in minutes. */
export async function yearTable(shop: OpenShop, asked: number): Promise<CsvTable> {
  const year = await yearView(shop, asked)
  const { code } = shop.almanac.shop.currency
  const amount = (section: string, line: string, minor: number, minutes: number | null = null) =>
    [asked, section, line, BigInt(minor), code, minutes] as const
  return {
    columns: ['year', 'section', 'line', 'amount', 'currency', 'minutes'],
    rows: [
      ...year.months.flatMap((month, index) => {
        const name = `${asked}-${String(index + 1).padStart(2, '0')}`
        return [
          amount('received', name, month.receivedMinor),
          amount('given back', name, month.givenBackMinor),
          amount('tax in it', name, month.taxMinor),
          amount(`income (${year.accounting})`, name, month.incomeMinor, month.minutes),
        ]
      }),
      ...year.byHow.map(({ how, minor }) => amount('by how paid', how, minor)),
      ...year.taxes.flatMap(({ name, rate, baseMinor, minor }) => [
        amount('tax due, on', `${name} ${writeRate(rate)}`, baseMinor),
        amount('tax due', `${name} ${writeRate(rate)}`, minor),
      ]),
      ...year.account.map(({ line, label, minor }) => amount('account', `${line} ${label}`, minor)),
      ...(['beginMinor', 'boughtMinor', 'usedMinor', 'endMinor'] as const).map((name) =>
        amount('supplies counted', SUPPLIES[name], year.goods.suppliesCounted[name]),
      ),
      amount('deposits held', 'at the end of the year', year.depositsHeldMinor),
      amount('tips', 'all', year.tipsMinor),
      ...year.earned.flatMap(({ construction, pieces, earnedMinor, minutes, leftOut }) => [
        ...(pieces === 0 ? [] : [amount('earned', construction, earnedMinor, minutes)]),
        ...(leftOut.pieces === 0 ? [] : [amount('earned, hours not known', construction, leftOut.earnedMinor)]),
      ]),
      ...(year.overhead.appliedMinor === null
        ? []
        : [amount('overhead', 'carried by hours', year.overhead.appliedMinor)]),
      ...(year.overhead.spentMinor === null ? [] : [amount('overhead', 'spent', year.overhead.spentMinor)]),
    ],
  }
}

const SUPPLIES = {
  beginMinor: 'on hand at the start',
  boughtMinor: 'bought',
  usedMinor: 'used',
  endMinor: 'on hand at the end',
} as const
