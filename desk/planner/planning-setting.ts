import { isDeepStrictEqual } from 'node:util'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { NOTHING_LOGGED, type HoursLogged } from '../../core/book/hours-logged.ts'
import type { PlanningSetting } from '../../core/book/planning-setting.ts'
import { placeStation } from '../../core/book/where-it-dries.ts'
import type { CureClock, PlanMaker } from '../../core/planning/index.ts'
import { daysLater, localDay, startOfLocalDay } from '../../core/time/local-day.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import { airAhead, type AirAhead } from '../../core/almanac/air-ahead.ts'
import { standardTimesOf } from '../../core/almanac/standard-times.ts'
import type { StandardTime } from '../../core/constructions/shop-facts.ts'
import { applicationOf, type Application } from '../../core/almanac/application.ts'
import { dryingPlaces } from '../../core/almanac/drying-places.ts'
import { ableFor, machineFor, MACHINES, machineStation } from '../../core/almanac/work-kinds.ts'
import { workingSessions } from '../../core/almanac/working-sessions.ts'
import { clockId, cureClockOf } from '../../core/almanac/cure-clock.ts'

/** Longer than any small shop's queue; beyond it nobody works, as far as plans go. */
const horizonDays = 4 * 365

/** What planning needs of the almanac, and the air that its clocks were made from. */
export interface ShopSetting extends PlanningSetting {
  readonly air: AirAhead
}

/**
 * The almanac turned into instants: sessions of each maker, capacities, the shop's air and cure clocks, days.
 * @param logged when work was done, which tells when the shop was heated
 */
export function planningSetting(almanac: Almanac, logged: HoursLogged, now: number): ShopSetting {
  const { timeZone } = almanac.shop
  const ahead = yearsAhead(almanac, localDay(now, timeZone), almanac.air.heated === 'always' ? NOTHING_LOGGED : logged)
  return {
    now,
    makers: ahead.makers,
    stations: [
      ...almanac.stations.map(({ id, name, capacity }) => ({ id, name, capacity })),
      ...almanac.machines.flatMap((id) => {
        const machine = MACHINES.find((each) => each.id === id)
        return machine === undefined ? [] : [{ id: machineStation(id), name: machine.name, capacity: 1 }]
      }),
      ...almanac.places.map(({ id, name, capacity }) => ({ id: placeStation(id), name, capacity })),
    ],
    air: ahead.air,
    places: dryingPlaces(almanac),
    rack: almanac.stations.find(({ kind }) => kind === 'rack')?.id ?? null,
    clockOf: (product, wait, stays = []) => {
      const key = clockId(product, wait, stays)
      const known = ahead.clocks.get(key) ?? cureClockOf(almanac, product, wait, ahead.air, stays)
      ahead.clocks.set(key, known)
      return known
    },
    applicationOf: (product, dryingIn = null) => {
      const key = `${product} ${dryingIn ?? ''}`
      const known = ahead.applications.get(key)
      if (known !== undefined) return known
      const found = applicationOf(almanac, product, ahead.air, ahead, dryingIn)
      ahead.applications.set(key, found)
      return found
    },
    startOfDay: (day) => startOfLocalDay(day, timeZone),
    endOfDay: (day) => startOfLocalDay(daysLater(day, 1), timeZone),
    announced: [],
    standardTime: (operation) => ahead.times.get(operation),
    timeChoices: almanac.times,
    suppliesFor: () => null,
    ableFor: (step) => ableFor(step, almanac),
    machineFor: (step) => {
      const machine = machineFor(step, almanac)
      return machine === null ? null : machineStation(machine.id)
    },
  }
}

interface YearsAhead {
  readonly day: string
  readonly logged: HoursLogged
  readonly makers: readonly PlanMaker[]
  readonly air: AirAhead
  readonly clocks: Map<string, CureClock>
  readonly applications: Map<string, Application | null>
  readonly times: ReadonlyMap<string, StandardTime>
  readonly from: number
  readonly to: number
}

// Years of sessions and air are made once a day, almanac and press of what was worked, not for every look at a screen.
const made = new WeakMap<Almanac, YearsAhead>()

function yearsAhead(almanac: Almanac, today: string, logged: HoursLogged): YearsAhead {
  const known = made.get(almanac)
  if (known?.day === today && isDeepStrictEqual(known.logged, logged)) return known
  const { timeZone } = almanac.shop
  const from = startOfLocalDay(today, timeZone)
  const to = from + horizonDays * 24 * 60
  const makers =
    known?.day === today
      ? known.makers
      : almanac.makers.map((maker) => ({
          id: maker.id,
          name: maker.name,
          hours: workingSessions(workingHours(timeZone, maker, almanac.specialDays, from, to), almanac.session),
        }))
  const ahead = {
    ...{ day: today, logged, makers },
    air: airAhead(almanac, from, logged),
    clocks: new Map<string, CureClock>(),
    applications: new Map<string, Application | null>(),
    times: standardTimesOf(almanac),
    ...{ from, to },
  }
  made.set(almanac, ahead)
  return ahead
}
