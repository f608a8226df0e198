import { PRIOR_MISHAPS, type MishapModel } from './times-model.ts'

/** What the log has of failures, and of what went well. */
export interface Mishaps {
  /** Glue-ups that held, and that failed. */
  readonly gluedUp: { readonly held: number; readonly failed: number }
  /** Lots of pieces that were begun, and that cracked. */
  readonly lots: { readonly begun: number; readonly cracked: number }
}

/** How often a glue-up fails and a piece cracks in this shop, from what is usual and what was logged. */
export function mishapsFrom({ gluedUp, lots }: Mishaps): MishapModel {
  const { glueUp, crack } = PRIOR_MISHAPS
  return {
    glueUp: { alpha: glueUp.alpha + gluedUp.failed, beta: glueUp.beta + gluedUp.held },
    crack: { alpha: crack.alpha + lots.cracked, beta: crack.beta + Math.max(0, lots.begun - lots.cracked) },
  }
}
