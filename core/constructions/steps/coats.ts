import type { CoatFacts, FinishFacts } from '../shop-facts.ts'
import type { Network } from './network.ts'

/** Grit between coats of a film; common practice, no source. */
export const USUAL_GRIT = 320

/** The coats in order: of a schedule as they are planned, else so many alike. @param coats null: as many as are usual */
export function coatsOf(finish: FinishFacts, coats: number | null): readonly CoatFacts[] {
  if (finish.schedule !== undefined) return finish.schedule.coats
  return Array.from({ length: coats ?? finish.coats.usual }, (_, index) => ({
    ...{ finish, method: finish.application, note: '', never: false },
    sandGrit: index > 0 && finish.sandBetween ? USUAL_GRIT : null,
    opens: index === 0 ? null : finish.recoatOpens,
  }))
}

/** Too many, too few, one that does not hold on the one below it, or a number that a schedule leaves out. */
export function warnOfCoats(
  network: Network,
  finish: FinishFacts,
  coats: readonly CoatFacts[],
  asked: number | null,
): void {
  const loose = coats.find(({ never }) => never)
  if (loose !== undefined) network.warnings.push(`${finish.name}: ${loose.note}`)
  if (finish.schedule !== undefined) {
    if (asked !== null && asked !== coats.length)
      network.warnings.push(
        `${finish.name} has ${coats.length} coats of its own: the ${asked} under Coats ${asked === 1 ? 'is' : 'are'} left out.`,
      )
    return
  }
  const count = coats.length
  if (count > finish.coats.most) {
    network.warnings.push(`${count} coats of ${finish.name}: its usual most is ${finish.coats.most}.`)
  } else if (count < finish.coats.least) {
    network.warnings.push(
      `${count} ${count === 1 ? 'coat' : 'coats'} of ${finish.name}: it usually takes at least ${finish.coats.least}.`,
    )
  }
}
