import type { Maker, ProductOnShelf, SpecialDay } from '../../core/almanac/almanac.ts'
import { writeFraction, writeRange } from '../../core/almanac/read-figures.ts'
import { writeTable } from '../../core/almanac/read-label.ts'
import type { MakerInput } from '../../core/almanac/read-maker.ts'
import type { ProductInput } from '../../core/almanac/read-product.ts'
import type { SpecialDayInput } from '../../core/almanac/read-special-day.ts'
import type { IsoWeekday } from '../../core/time/local-day.ts'
import { writeTimeOfDay } from '../../core/time/time-of-day.ts'
import type { LabelRange } from '../../core/waits/product.ts'

/** Things of the almanac's lists as a form holds them: read back unchanged, they are the same things. */
/** @param hour12 whether the shop's clock says AM and PM */
export const makerInput = (maker: Maker | null, hour12 = false): MakerInput =>
  maker === null
    ? { id: '', name: '', attendance: '90%', hours: [] }
    : {
        id: maker.id,
        name: maker.name,
        attendance: writeFraction(maker.attendance),
        hours: weekdays.flatMap((weekday) =>
          (maker.weeklyHours[weekday] ?? []).map(({ from, to }) => ({
            weekday,
            from: writeTimeOfDay(from, hour12),
            to: writeTimeOfDay(to, hour12),
          })),
        ),
      }

export const specialDayInput = (day: SpecialDay | null, hour12 = false): SpecialDayInput =>
  day === null
    ? { id: '', day: '', kind: 'closed', maker: '', note: '', hours: [] }
    : {
        id: day.id,
        day: day.day,
        kind: day.kind,
        maker: day.maker ?? '',
        note: day.note,
        hours: day.hours.map(({ from, to }) => ({
          from: writeTimeOfDay(from, hour12),
          to: writeTimeOfDay(to, hour12),
        })),
      }

export const productInput = (product: ProductOnShelf | null, firstClass: string): ProductInput =>
  product === null
    ? { id: '', class: firstClass, name: '', label: {} }
    : {
        id: product.id,
        class: product.class,
        name: product.name,
        label: {
          ...Object.fromEntries(
            Object.entries(product.label).map(([quantity, range]) => [quantity, labelText(quantity, range)]),
          ),
          // As Celsius, so that nothing is rounded that nobody touched.
          ...(product.table === undefined ? {} : { table: writeTable(product.table, 'millimetre') }),
        },
      }

export const weekdays: readonly IsoWeekday[] = [1, 2, 3, 4, 5, 6, 7]

/** Written without rounding, whatever the shop's units: a figure that is not touched stays what it is. */
function labelText(quantity: string, range: LabelRange): string {
  switch (quantity) {
    case 'coldestC':
    case 'warmestC':
      return `${range.typical} °C`
    case 'spreadGsm':
      return range.min === range.max ? `${range.min} g/m2` : `${range.min}-${range.max} g/m2`
    case 'doublingC':
      return `${range.typical} °C`
    case 'dampestRh':
      return writeFraction(range.typical)
    case 'coats':
      return String(range.typical)
    default:
      return writeRange(range)
  }
}
