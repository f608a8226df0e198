import { shop } from '../shop.svelte.ts'

/** Who is at the bench, where more than one maker works in the shop; remembered on this computer. */
class WhoWorks {
  #chosen = $state(localStorage.getItem(PLACE))

  /** Maker id for the log: the only one, else the chosen one, else nobody in particular. */
  makerId = $derived.by(() => {
    const makers = shop.state?.makers ?? []
    if (makers.length === 1) return makers[0]?.id ?? null
    return makers.some((maker) => maker.id === this.#chosen) ? this.#chosen : null
  })

  choose(makerId: string): void {
    this.#chosen = makerId
    localStorage.setItem(PLACE, makerId)
  }
}

const PLACE = 'who-works'

export const whoWorks = new WhoWorks()
