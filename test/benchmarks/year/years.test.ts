import { describe, expect, it } from 'vitest'
import { DAY_MIN } from '../../../benchmarks/year/calendar.ts'
import { customersOf } from '../../../benchmarks/year/customers.ts'
import { liveYears } from '../../../benchmarks/year/live-years.ts'
import type { Outcome, Policy, ShopView } from '../../../benchmarks/year/lived.ts'
import { learnedTimes } from '../../../benchmarks/year/policies/learned-times.ts'
import { believed } from '../../../benchmarks/year/policies/policies.ts'
import { habit } from '../../../benchmarks/year/policies/rules.ts'
import { ours } from '../../../benchmarks/year/policies/ours.ts'
import { shopOf } from '../../../benchmarks/year/shop.ts'
import { PRIOR_MISHAPS } from '../../../core/learning/index.ts'
import type { Forecast } from '../../../core/planning/index.ts'
import { DEVELOPMENT_WORLD } from '../../../benchmarks/year/world.ts'

const shop = shopOf(DEVELOPMENT_WORLD, 3)
const lastDay = shop.firstDay + 100
/** Everybody who comes in the first four weeks. */
const customers = customersOf(shop, true).filter(({ day }) => day < shop.firstDay + 28)
const effort = { replications: 10, schedules: 5, evening: 3 }

const ourPolicy = (): Policy =>
  ours({
    ...{ name: 'ours', shop, dispatch: 'plan', effort: () => effort },
    times: () => ({ factor: () => 1, forecast: believed(shop) }),
  })

const live = (policy: Policy): readonly Outcome[] => liveYears({ shop, customers, policy, openDoor: true, lastDay })

describe('years that are lived', () => {
  it('are the same every time', () => {
    expect(live(habit)).toEqual(live(habit))
  })

  it('finish every order, under our plan as by earliest due date, and none before its waits allow', () => {
    for (const policy of [habit, ourPolicy()]) {
      const outcomes = live(policy)
      expect(outcomes).toHaveLength(customers.length)
      for (const { doneAt, askedAt } of outcomes) {
        expect(doneAt).not.toBeNull()
        // Glue in clamps and a coat or two never take less than a day.
        expect(doneAt! - askedAt).toBeGreaterThan(1440)
      }
    }
  })

  it('ask the same of every policy, whoever stays', () => {
    const size = ({ id, handsOnMin }: Outcome): string => `${id} ${handsOnMin}`
    expect(live(ourPolicy()).map(size).toSorted()).toEqual(live(habit).map(size).toSorted())
  })

  it('show a policy only presses that were made by then', () => {
    const views: ShopView[] = []
    const watching: Policy = { ...habit, list: (view) => (views.push(view), habit.list(view)) }
    live(watching)
    const pressed = views.flatMap(({ now, log }) => log.map(({ atMin }) => ({ now, atMin })))
    expect(pressed.length).toBeGreaterThan(100)
    expect(pressed.filter(({ now, atMin }) => atMin > now)).toEqual([])
  })

  it('tell us that a maker stayed away only in weeks in which something could be worked on', () => {
    const [pauseFrom, pauseTo] = [shop.firstDay + 14, shop.firstDay + 154]
    const twice = customersOf(shop, true).filter(({ day }) => day < pauseFrom || (day >= pauseTo && day < pauseTo + 14))
    const learn = learnedTimes(shop)
    const learned: Forecast['attendance'][] = []
    const watching: Policy = {
      ...habit,
      list: (view) => (learned.push(learn(view).forecast.attendance), habit.list(view)),
    }
    const outcomes = liveYears({ shop, customers: twice, policy: watching, openDoor: true, lastDay: pauseTo + 100 })
    const ends = outcomes.filter(({ askedAt }) => askedAt < pauseFrom * DAY_MIN).map(({ doneAt }) => doneAt!)
    const idleWeeks = (pauseTo * DAY_MIN - Math.max(...ends)) / (7 * DAY_MIN)
    expect(idleWeeks).toBeGreaterThan(8)
    const { lostWeek } = believed(shop).attendance
    expect(learned.at(-1)!.lostWeek.alpha - lostWeek.alpha).toBeLessThan(idleWeeks / 2)
    expect(learned.at(-1)!.lostWeek.beta - lostWeek.beta).toBeGreaterThan(4)
  })

  it('tell us how often glue-ups fail and pieces crack in a shop, as it says so', () => {
    const rough = shopOf({ ...DEVELOPMENT_WORLD, mishaps: { glueUp: 0.3, againFactor: 1, crack: 0 } }, 3)
    const some = customersOf(rough, true).filter(({ day }) => day < rough.firstDay + 28)
    const learn = learnedTimes(rough)
    const learned: Forecast['mishaps'][] = []
    const watching: Policy = {
      ...habit,
      list: (view) => (learned.push(learn(view).forecast.mishaps), habit.list(view)),
    }
    liveYears({ shop: rough, customers: some, policy: watching, openDoor: true, lastDay: rough.firstDay + 150 })
    const { glueUp, crack } = learned.at(-1)!
    const failed = glueUp.alpha - PRIOR_MISHAPS.glueUp.alpha
    const held = glueUp.beta - PRIOR_MISHAPS.glueUp.beta
    expect(failed + held).toBeGreaterThan(20)
    // Within what a draw of so many may be off, four standard deviations.
    expect(Math.abs(failed / (failed + held) - 0.3)).toBeLessThan(4 * Math.sqrt((0.3 * 0.7) / (failed + held)))
    expect(crack.alpha).toBe(PRIOR_MISHAPS.crack.alpha)
    expect(crack.beta).toBeGreaterThan(PRIOR_MISHAPS.crack.beta + 10)
  })
})
