import type { Almanac } from '../core/almanac/almanac.ts'
import type { PlanningSetting } from '../core/book/planning-problem.ts'
import type { PlanMaker } from '../core/planning/model.ts'
import { daysLater, localDay, startOfLocalDay } from '../core/time/local-day.ts'
import { workingHours } from '../core/time/shop-calendar.ts'
import { cureClockOf } from '../core/almanac/cure-clock.ts'

/** Longer than any small shop's queue; beyond it nobody works, as far as plans go. */
const horizonDays = 4 * 365

/** The almanac turned into instants: sessions of each maker, capacities, cure clocks, days. */
export function planningSetting(almanac: Almanac, now: number): PlanningSetting {
  const { timeZone } = almanac.shop
  return {
    now,
    makers: sessionsOf(almanac, localDay(now, timeZone)),
    stations: almanac.stations.map(({ id, name, capacity }) => ({ id, name, capacity })),
    clockOf: (product) => cureClockOf(almanac, product),
    startOfDay: (day) => startOfLocalDay(day, timeZone),
    endOfDay: (day) => startOfLocalDay(daysLater(day, 1), timeZone),
    announced: [],
  }
}

// Years of sessions are made once a day and almanac, not for every look at a screen.
const sessionsMade = new WeakMap<Almanac, { readonly day: string; readonly makers: readonly PlanMaker[] }>()

function sessionsOf(almanac: Almanac, today: string): readonly PlanMaker[] {
  const known = sessionsMade.get(almanac)
  if (known?.day === today) return known.makers
  const { timeZone } = almanac.shop
  const from = startOfLocalDay(today, timeZone)
  const to = from + horizonDays * 24 * 60
  const makers = almanac.makers.map((maker) => ({
    id: maker.id,
    name: maker.name,
    hours: workingHours(timeZone, maker, almanac.specialDays, from, to),
  }))
  sessionsMade.set(almanac, { day: today, makers })
  return makers
}
