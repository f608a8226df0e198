import type { Problem } from '../core/problems.ts'
import type { Reply } from '../desk/procedure.ts'
import { answersDue } from './answers-due.ts'
import { shop } from './shop.svelte.ts'

/** What a screen asked the desk: the newest answer stays in place while a newer one is on its way. */
export class Asked<T> {
  value = $state.raw<T | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  asking = $state(false)

  #latest = 0

  async take(reply: Promise<Reply<T>>): Promise<void> {
    const mine = ++this.#latest
    this.asking = true
    const answer = await reply
    if (mine !== this.#latest) return
    this.asking = false
    this.problems = answer.ok ? [] : answer.problems
    if (answer.ok) this.value = answer.value
  }
}

/**
 * Asks now, before anything is drawn or the screen before is taken away, so that the desk works meanwhile; whenever the shop changed, and
 * whenever what the question reads changes. To be called while a component is set up, below what the question reads:
 * `const rack = ask(() => desk.rack())`.
 * @param how `odds`: asks again when other odds are worked out, too; `grays-itself`: what is drawn of an answer from before is gray by
 * itself, and the rest of the screen does not stay gray for it
 */
export function ask<T>(question: () => Promise<Reply<T>>, how?: 'odds' | 'grays-itself'): Asked<T> {
  const asked = new Asked<T>()
  $effect.pre(() => {
    void shop.changes
    if (how === 'odds') void shop.oddsChanges
    const answered = asked.take(question())
    if (how !== 'grays-itself') answersDue.add(answered)
  })
  return asked
}
