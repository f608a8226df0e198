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
 * Asks now, whenever the shop changed, and whenever what the question reads changes. To be called while a component is
 * set up: `const rack = ask(() => desk.rack())`.
 * @param shows odds: asks again when other odds are worked out, too
 */
export function ask<T>(question: () => Promise<Reply<T>>, shows?: 'odds'): Asked<T> {
  const asked = new Asked<T>()
  $effect(() => {
    void shop.changes
    if (shows === 'odds') void shop.oddsChanges
    answersDue.add(asked.take(question()))
  })
  return asked
}
