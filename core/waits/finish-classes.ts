import { FILM_FINISHES } from './film-finishes.ts'
import type { FinishClass } from './finish-class.ts'
import { OIL_FINISHES } from './oil-finishes.ts'

/** All finish classes. */
export const FINISH_CLASSES: readonly FinishClass[] = [...OIL_FINISHES, ...FILM_FINISHES]

const BY_ID: ReadonlyMap<string, FinishClass> = new Map(FINISH_CLASSES.map((one) => [one.id, one]))

/** The class of that id, or null where a stored id is unknown to this version. */
export const finishClass = (id: string): FinishClass | null => BY_ID.get(id) ?? null
