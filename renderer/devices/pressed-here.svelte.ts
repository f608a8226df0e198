import { untrack } from 'svelte'
import type { KeptPress } from './kept-presses.ts'
import { outbox } from './outbox.svelte.ts'

/**
 * Presses that wait on this device, and what of them the desk was told since it answered this screen.
 * To be made while a component is.
 */
export class PressedHere {
  presses = $state.raw<readonly KeptPress[]>([])

  /** @param told the desk's answer, for whoever reads it anew with each one */
  constructor(told: () => unknown) {
    $effect(() => {
      void told()
      void outbox.dropped
      this.presses = untrack(() => outbox.waiting)
    })
    $effect(() => {
      const had = untrack(() => this.presses)
      const more = outbox.waiting.filter(({ key }) => !had.some((press) => press.key === key))
      if (more.length > 0) this.presses = [...had, ...more]
    })
  }
}
