import type { GlueClass } from './glue-class.ts'
import { PVA_AND_HIDE_GLUES } from './pva-and-hide-glues.ts'
import { REACTIVE_GLUES } from './reactive-glues.ts'

/** All glue classes, the usual ones of a small shop first. */
export const GLUE_CLASSES: readonly GlueClass[] = [...PVA_AND_HIDE_GLUES, ...REACTIVE_GLUES]

const BY_ID: ReadonlyMap<string, GlueClass> = new Map(GLUE_CLASSES.map((one) => [one.id, one]))

/** The class of that id, or null where a stored id is unknown to this version. */
export const glueClass = (id: string): GlueClass | null => BY_ID.get(id) ?? null
