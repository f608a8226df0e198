import { waitClock } from './clock.ts'
import { FILM_FINISHES } from './film-finishes.ts'
import type { FinishClass } from './finish-class.ts'
import { FINISH_FIGURES as F } from './finish-figures.ts'
import { OIL_FINISHES } from './oil-finishes.ts'

/** All finish classes. */
export const FINISH_CLASSES: readonly FinishClass[] = [...OIL_FINISHES, ...FILM_FINISHES]

const BY_ID: ReadonlyMap<string, FinishClass> = new Map(FINISH_CLASSES.map((one) => [one.id, one]))

/** The class of that id, or null where a stored id is unknown to this version. */
export const finishClass = (id: string): FinishClass | null => BY_ID.get(id) ?? null

/** What must pass before one system goes over another, in minutes, and where that is published. */
export const BETWEEN_SYSTEMS = {
  waterOverOil: waitClock(F.any_film_finish.oil_then_water),
  oilOverWater: waitClock(F.any_film_finish.water_then_oil),
} as const
