import { countedTitle } from '../../core/book/counted-title.ts'
import { endOfWait } from '../../core/book/wait-over.ts'
import type { Commission } from '../../core/book/book.ts'
import { daysLater, localDay } from '../../core/time/local-day.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import { promisesOf } from '../../db/promises.ts'
import { standingDays } from '../../db/standing-days.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { calendarText, type CalendarEntry } from './calendar-text.ts'
import { timesOf } from '../screens/weeks.ts'

/** How far sessions are written ahead, in days. */
const AHEAD_DAYS = 56

/** What is ahead as iCalendar: promises and hand-overs as whole days, sessions and waits by their hours. */
export async function writeCalendar(shop: OpenShop): Promise<string> {
  const moment = shop.moment()
  const entries = [...(await ordersIn(shop)), ...sessionsAhead(moment), ...waitsAhead(moment)]
  return calendarText(shop.almanac.shop.name, entries, shop.nowMs)
}

/** Every order that has a promise, or was handed over. */
async function ordersIn(shop: OpenShop): Promise<CalendarEntry[]> {
  const given = Map.groupBy(
    (await promisesOf(shop.db)).filter(({ kind }) => kind === 'promise'),
    ({ commissionId }) => commissionId,
  )
  const days = await standingDays(shop.db)
  return (await orderBookRows(shop.db)).flatMap(({ commission, pieces }): CalendarEntry[] => {
    const { id, promisedFor, standing } = commission
    const what = `${pieces.map(countedTitle).join(', ')}, ${nameOf(commission)}`
    const calledOff = standing === 'called-off'
    const sequence = Math.max(0, (given.get(id)?.length ?? 1) - 1) + (calledOff ? 1 : 0)
    const handedOver = standing === 'handed-over' ? (days.get(id)?.handedOverAtMs ?? null) : null
    return [
      ...(promisedFor === null
        ? []
        : [
            {
              id: `promise-${id}`,
              sequence,
              summary: `Promised: ${what}`,
              canceled: calledOff,
              when: { day: promisedFor },
            },
          ]),
      ...(handedOver === null
        ? []
        : [
            {
              id: `hand-over-${id}`,
              sequence: 0,
              summary: `Handed over: ${what}`,
              when: { day: localDay(handedOver / 60_000, shop.almanac.shop.timeZone) },
            },
          ]),
    ]
  })
}

const nameOf = ({ number, customer }: Commission): string =>
  customer.name === '' ? `No. ${number}` : `No. ${number}, ${customer.name}`

/** What is planned moves with every plan: its number only has to grow. */
const sequenceAt = ({ now }: Moment): number => Math.max(0, now - Date.UTC(2026, 0) / 60_000)

function sessionsAhead(moment: Moment): CalendarEntry[] {
  const until = moment.setting.endOfDay(daysLater(moment.today, AHEAD_DAYS))
  const names = new Map(moment.almanac.makers.map(({ id, name }) => [id, name]))
  return moment.setting.makers.flatMap(({ id, hours }) =>
    hours
      .filter(({ from, to }) => to > moment.now && from < until)
      .map(({ from, to }) => ({
        id: `session-${id}-${localDay(from, moment.wording.timeZone)}-${from % 1440}`,
        sequence: sequenceAt(moment),
        summary: `In the shop: ${names.get(id) ?? id}`,
        ...plannedIn({ from, to }, id, moment),
        when: { from, to },
      })),
  )
}

/** What somebody is planned to do in a session, a line each; nothing where nothing is. */
function plannedIn(
  { from, to }: { readonly from: number; readonly to: number },
  makerId: string,
  moment: Moment,
): Pick<CalendarEntry, 'description'> {
  const steps = (moment.plan?.steps ?? []).filter(
    ({ makers, stretches }) => makers.includes(makerId) && stretches.some((each) => each.from < to && each.to > from),
  )
  const lines = steps.flatMap(({ id }) => {
    const [step, lot] = [moment.step(id), moment.lotOf(id)]
    return step === undefined || lot === undefined
      ? []
      : [`${step.name}: ${lot.label.title}, No. ${lot.commission.number}`]
  })
  return lines.length === 0 ? {} : { description: lines.join('\n') }
}

/** The waits that run, and those of the plan. */
function waitsAhead(moment: Moment): CalendarEntry[] {
  return moment.lots
    .filter(({ commission, state }) => commission.standing === 'agreed' && state !== 'finished')
    .flatMap(({ steps, label }) =>
      steps.flatMap((step) => {
        const times = timesOf(step, moment)
        if (times === null) return []
        return moment.lagsFrom(step.id).flatMap((lag): CalendarEntry[] => {
          if (lag.wait === 'none') return []
          const clock =
            lag.product === null ? null : moment.setting.clockOf(lag.product, lag.wait, moment.stays(step.id))
          const to = endOfWait(times.end, lag.minMin, clock)
          if (to === null || to <= moment.now || to <= times.end) return []
          return [
            {
              id: `wait-${lag.fromStep}-${lag.toStep}`,
              sequence: sequenceAt(moment),
              summary: `${lag.name}: ${label.title}, No. ${label.number}`,
              when: { from: times.end, to },
            },
          ]
        })
      }),
    )
}
