import type { Almanac } from '../../core/almanac/almanac.ts'
import { changeFact } from '../../core/almanac/facts.ts'
import { withListed, withoutListed, type AlmanacList } from '../../core/almanac/lists.ts'
import { readMaker, type MakerInput } from '../../core/almanac/read-maker.ts'
import { readFinish, readGlue, type ProductInput } from '../../core/almanac/read-product.ts'
import type { FinishSchedule } from '../../core/almanac/finish-schedule.ts'
import { readPlace, type PlaceInput } from '../../core/almanac/read-place.ts'
import { readSchedule, type ScheduleInput } from '../../core/almanac/read-schedule.ts'
import { readSpecialDay, type SpecialDayInput } from '../../core/almanac/read-special-day.ts'
import { readStation, type StationInput } from '../../core/almanac/read-station.ts'
import { readWood, type WoodInput } from '../../core/almanac/read-wood.ts'
import { placeAt } from '../../core/book/stays.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { SpecInput } from '../../core/constructions/construction.ts'
import { readOwnConstruction } from '../../core/constructions/own/read-own-construction.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { hasAmounts } from '../../db/amounts.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'

/** A thing of one of the almanac's lists as typed; `id` is empty for a new one. */
export type ListedInput =
  | { readonly list: 'makers'; readonly item: MakerInput }
  | { readonly list: 'specialDays'; readonly item: SpecialDayInput }
  | { readonly list: 'stations'; readonly item: StationInput }
  | { readonly list: 'glues' | 'finishes'; readonly item: ProductInput }
  | { readonly list: 'woods'; readonly item: WoodInput }
  | { readonly list: 'places'; readonly item: PlaceInput }
  | { readonly list: 'finishSchedules'; readonly item: ScheduleInput }
  | { readonly list: 'constructions'; readonly item: OwnConstructionInput }

/** A construction of the maker's own as its form holds it. */
export interface OwnConstructionInput {
  readonly id: string
  readonly input: SpecInput
}

/** One fact, as typed. A shop whose book has amounts keeps its currency: what was agreed on in it cannot be told in another. */
export async function changeOneFact(shop: OpenShop, key: string, input: string): Promise<Result<Moved>> {
  const changed = changeFact(shop.almanac, key, input)
  const { code } = shop.almanac.shop.currency
  if (changed.ok && changed.value.shop.currency.code !== code && (await hasAmounts(shop.db))) {
    return failed(problem('amounts-exist', `The book has amounts in ${code}: the currency stays.`, key))
  }
  return keep(shop, changed, 'Changed in the Almanac.')
}

/** Adds a thing to a list, or changes the one with its id. */
export const saveListed = (shop: OpenShop, input: ListedInput): Promise<Result<Moved>> =>
  keep(shop, withThing(shop, input), 'Kept in the Almanac.')

/** Takes a thing out of its list, unless work in hand needs it. */
export function removeListed(shop: OpenShop, list: AlmanacList, id: string): Promise<Result<Moved>> {
  const there = list === 'places' ? piecesIn(shop, id) : 0
  if (there > 0) {
    const pieces = there === 1 ? 'A piece dries' : `${there} pieces dry`
    return Promise.resolve(failed(problem('in-use', `${pieces} there. Carry it back on the Rack first.`, list)))
  }
  const users = list === 'finishSchedules' ? askingFor(shop, id) : isUsedInSteps(list) ? usersOf(shop, id) : []
  if (users.length > 0) {
    const against = problem(
      'in-use',
      `Steps of ${users.map((number) => `No. ${number}`).join(', ')} still need it: finish or call off those first.`,
      list,
    )
    return Promise.resolve(failed(against))
  }
  const schedules = list === 'finishes' ? shop.almanac.finishSchedules.filter((one) => isIn(one, id)) : []
  if (schedules.length > 0) {
    const names = schedules.map(({ name }) => `“${name}”`).join(', ')
    return Promise.resolve(failed(problem('in-use', `${names} uses it: change that schedule first.`, list)))
  }
  return keep(shop, withoutListed(shop.almanac, list, id), 'Taken out of the Almanac.')
}

function withThing({ almanac, now }: OpenShop, input: ListedInput): Result<Almanac> {
  const kept = <List extends AlmanacList>(list: List, read: Result<Almanac[List][number]>): Result<Almanac> =>
    read.ok ? ok(withListed(almanac, list, read.value)) : read
  switch (input.list) {
    case 'makers':
      return kept('makers', readMaker(input.item, almanac))
    case 'specialDays':
      return kept('specialDays', readSpecialDay(input.item, almanac))
    case 'stations':
      return kept('stations', readStation(input.item, almanac))
    case 'glues':
      return kept('glues', readGlue(input.item, almanac))
    case 'finishes':
      return kept('finishes', readFinish(input.item, almanac))
    case 'woods':
      return kept('woods', readWood(input.item, almanac))
    case 'finishSchedules':
      return kept('finishSchedules', readSchedule(input.item, almanac))
    case 'places':
      return kept('places', readPlace(input.item, almanac))
    case 'constructions': {
      const { id, input: form } = input.item
      return kept('constructions', readOwnConstruction(form, id, almanac.constructions, shopFactsOf(almanac, now)))
    }
  }
}

const isUsedInSteps = (list: AlmanacList): boolean => list === 'stations' || list === 'glues' || list === 'finishes'

/** Numbers of the open orders with a piece that asks for this schedule. */
function askingFor(shop: OpenShop, schedule: string): number[] {
  const { book } = shop.moment()
  const asking = book.pieces.filter(({ spec }) => asksFor(spec as FinishesAsked | null, schedule))
  const commissions = new Set(asking.map((piece) => piece.commissionId))
  return book.commissions.filter(({ id }) => commissions.has(id)).map(({ number }) => number)
}

/** As far as specs say what goes on a piece, and on a part of it that is finished in its own way. */
interface FinishesAsked {
  readonly finish?: unknown
  readonly part?: { readonly finish?: unknown }
}

const asksFor = (spec: FinishesAsked | null, finish: string): boolean =>
  spec?.finish === finish || spec?.part?.finish === finish

const isIn = ({ layers, wax }: FinishSchedule, finish: string): boolean =>
  wax === finish || layers.some((layer) => layer.finish === finish)

/** How many pieces wait in a place now. */
function piecesIn(shop: OpenShop, place: string): number {
  const moment = shop.moment()
  const waits = moment.lots.flatMap((lot) => lot.waits)
  return waits.filter(({ from }) => placeAt(moment.stays(from.id), moment.now) === place).length
}

/** Numbers of the open commissions with steps to do that use a station, glue or finish. */
function usersOf(shop: OpenShop, id: string): number[] {
  const moment = shop.moment()
  const users = moment.book.steps.filter(
    (step) =>
      moment.progress(step.id).kind !== 'done' &&
      (step.holds.some((hold) => hold.station === id) ||
        step.tackyProduct === id ||
        moment.lagsFrom(step.id).some((lag) => lag.product === id)),
  )
  const commissions = new Set(users.map((step) => step.commissionId))
  return moment.book.commissions.filter((commission) => commissions.has(commission.id)).map(({ number }) => number)
}

const keep = async (shop: OpenShop, changed: Result<Almanac>, said: string): Promise<Result<Moved>> =>
  changed.ok
    ? shop.change(async (db) => {
        await saveAlmanac(db, changed.value, shop.starting, { atMs: shop.nowMs, makerId: null })
        return ok(said)
      })
    : changed
