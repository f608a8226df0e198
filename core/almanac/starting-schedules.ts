import type { FinishSchedule } from './finish-schedule.ts'

/** Schedules that a new shop starts with. @source common practice, no source */
export const STARTING_SCHEDULES: readonly FinishSchedule[] = [
  {
    ...{ id: 'three-wiping-coats-rubbed-out', name: 'Three wiping coats, rubbed out', rubOut: '0000 pad', wax: null },
    layers: [{ finish: 'wipe_on_polyurethane', coats: 3, method: 'wipe', sandGrit: 320 }],
  },
  {
    ...{ id: 'sealed-and-brushed', name: 'Shellac, then two brushed coats', rubOut: null, wax: null },
    layers: [
      { finish: 'shellac', coats: 1, method: 'brush', sandGrit: null },
      { finish: 'water_polyurethane', coats: 2, method: 'brush', sandGrit: 320 },
    ],
  },
  {
    ...{ id: 'wiped-sprayed', name: 'One wiped coat, two sprayed, rubbed out', rubOut: '2000', wax: null },
    layers: [
      { finish: 'wiping_oil_varnish', coats: 1, method: 'wipe', sandGrit: null },
      { finish: 'oil_polyurethane', coats: 2, method: 'spray', sandGrit: 320 },
    ],
  },
]
