import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { dayOfYear, LAST_JUDGED_DAY } from './calendar.ts'
import { between, normal, poisson, uniform, weighted } from './luck.ts'
import type { Shop } from './shop.ts'
import type { MixedPiece, World } from './world.ts'
import type { Draft } from '../../desk/orders/draft.ts'

/** Somebody who asks for something, whether the order comes of it or not. */
export interface Customer {
  /** Names the luck of the order. */
  readonly id: string
  /** Comes at closing time of this day. */
  readonly day: number
  readonly draft: Draft
  /** Leaves when the promise is for a later day. */
  readonly needDay: number
  /** Wants another size, so far into the time until the promise; null: knew what was wanted. */
  readonly change: { readonly after: number; readonly factor: number } | null
}

/** Everybody who comes in the history and the judged year, in order. @param openDoor fewer come, and nobody is asked to leave */
export function customersOf({ world, name, firstDay }: Shop, openDoor: boolean): readonly Customer[] {
  const customers: Customer[] = []
  const perDay = (openDoor ? world.orders.perWeekOpenDoor : world.orders.perWeek) / 7
  for (let day = firstDay; day <= LAST_JUDGED_DAY; day++) {
    const count = poisson(`${name}/customers ${day}`, perDay * seasonOf(world, day))
    for (let index = 0; index < count; index++) customers.push(customerOf(world, `${name}/order ${day}.${index}`, day))
  }
  return customers
}

/** 14 November: the middle of the weeks in which presents are ordered. */
const PEAK_DAY = 317

/** How many come on a day relative to the year's mean. */
function seasonOf({ orders: { season } }: World, day: number): number {
  const wave = Math.max(0, Math.cos((2 * Math.PI * (dayOfYear(day) - PEAK_DAY)) / 365))
  // What the wave adds over a year is taken away from every day: its mean is near 0.3.
  return Math.max(0, 1 + season * (wave - 0.3))
}

function customerOf({ orders, customers }: World, id: string, day: number): Customer {
  const { after, factor } = {
    after: between(`${id}/change`, 0, 1 / 3),
    factor: between(`${id}/size`, ...customers.sizeChange),
  }
  return {
    ...{ id, day },
    draft: draftOf(weighted(`${id}/piece`, orders.mix), id),
    needDay: needOf(customers, id, day),
    change: uniform(`${id}/changes`) < customers.changesSize ? { after, factor } : null,
  }
}

function needOf({ needWeeks, needSpread, fixedDay, december }: World['customers'], id: string, day: number): number {
  if (uniform(`${id}/fixed`) >= fixedDay)
    return day + Math.round(7 * needWeeks * Math.exp(needSpread * normal(`${id}/need`)))
  if (uniform(`${id}/december`) >= december) return day + Math.round(between(`${id}/need`, 14, 112))
  const firstOfDecember = day - dayOfYear(day) + 334
  const wanted = firstOfDecember + Math.floor(between(`${id}/need`, 0, 24))
  return wanted > day + 7 ? wanted : wanted + 365
}

function draftOf({ construction, count, input }: MixedPiece, id: string): Draft {
  const said = Object.entries(input).map(([field, value]): [string, string | boolean] => [
    field,
    typeof value === 'object' ? value[Math.floor(uniform(`${id}/${field}`) * value.length)]! : value,
  ])
  return {
    customer: { name: id, reach: 'at the door', secondReach: '', address: '', allergies: 'none', childUnder3: 'no' },
    takenWhere: 'in-person',
    pieces: [
      {
        construction,
        input: { ...constructionOf(construction)?.starting('inch'), ...Object.fromEntries(said) },
        count: String(count),
      },
    ],
    ...{ neededBy: '', neededWhy: '', notes: '', home: ALMANAC_HOME, price: '', deposit: '', depositHow: '' },
  }
}
