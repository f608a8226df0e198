import type { Component } from 'svelte'
import Bench from './bench/Bench.svelte'
import type { PagePlace } from './screens.ts'

type Part = Component<Record<string, unknown>>
type Name = PagePlace['screen']
type At<Of extends Name> = Extract<PagePlace, { readonly screen: Of }>

interface LatePart<Of extends Name> {
  readonly load: () => Promise<{ readonly default: unknown }>
  readonly props: (place: At<Of>) => Record<string, unknown>
}

/**
 * What is drawn where the page is. The Bench comes with the page, as the app opens there; the code of every other screen is a file of its
 * own, so that the first heading does not wait for it, and is fetched as soon as the first screen stands.
 */
class ScreenParts {
  /** Null: its code could not be fetched. */
  #loaded = $state.raw<ReadonlyMap<Name, Part | null>>(new Map([['bench', plain(Bench)]]))
  readonly #loading = new Set<Name>()

  /** Undefined: it is on its way; null: it could not be fetched. To be asked where something is drawn from it. */
  part(name: Name): Part | null | undefined {
    return this.#loaded.get(name)
  }

  /** For who goes to that screen. What a browser could not fetch once it does not ask for again in the same page: that takes another one. */
  async open(name: Name): Promise<void> {
    const wasMissing = this.#loaded.get(name) === null
    await this.#fetch(name)
    if (wasMissing && this.#loaded.get(name) === null && (await isInReach())) location.reload()
  }

  async #fetch(name: Name): Promise<void> {
    if (name === 'bench' || this.#loading.has(name) || this.#loaded.get(name) != null) return
    this.#loading.add(name)
    const part = await LATE[name].load().then(
      (module) => plain(module.default),
      () => null,
    )
    this.#loading.delete(name)
    this.#loaded = new Map([...this.#loaded, [name, part]])
  }

  /** One after the other, each when the page has nothing else to do. */
  async fetchAll(): Promise<void> {
    for (const name of Object.keys(LATE) as Name[]) {
      await new Promise((idle) => requestIdleCallback(idle, { timeout: 500 }))
      await this.#fetch(name)
    }
  }
}

/** Whether the page itself could be had again: who is out of reach would be left with none. */
const isInReach = (): Promise<boolean> =>
  fetch('/', { cache: 'no-store' }).then(
    ({ ok }) => ok,
    () => false,
  )

/** Its props are held to its type where the list below says them. */
const plain = (part: unknown): Part => part as Part

const late = <Of extends Exclude<Name, 'bench'>, Props extends Readonly<Record<keyof Props, unknown>>>(
  load: () => Promise<{ readonly default: Component<Props> }>,
  props: (place: At<Of>) => Props,
): LatePart<Of> => ({ load, props })

const none = (): Record<string, never> => ({})

const LATE: { readonly [Of in Exclude<Name, 'bench'>]: LatePart<Of> } = {
  rack: late(() => import('./rack/Rack.svelte'), none),
  'new-order': late(() => import('./new-order/NewOrder.svelte'), none),
  orders: late(() => import('./order-book/OrderBook.svelte'), none),
  commission: late(
    () => import('./commission/Commission.svelte'),
    ({ id, failedStepId = null }) => ({ id, failedStepId }),
  ),
  weeks: late(() => import('./weeks/Weeks.svelte'), none),
  timber: late(() => import('./timber/Timber.svelte'), none),
  customers: late(() => import('./customers/Customers.svelte'), none),
  tally: late(() => import('./tally/Tally.svelte'), none),
  year: late(() => import('./year/Year.svelte'), none),
  almanac: late(() => import('./almanac/Almanac.svelte'), none),
  'change-order': late(
    () => import('./change-order/ChangeOrder.svelte'),
    ({ id }) => ({ id }),
  ),
  labels: late(
    () => import('./labels/LabelsPage.svelte'),
    ({ id }) => ({ id }),
  ),
  number: late(
    () => import('./labels/OpenByNumber.svelte'),
    ({ number }) => ({ number }),
  ),
  paper: late(
    () => import('./papers/PaperPage.svelte'),
    ({ id, orderId }) => ({ id, orderId }),
  ),
}

/** What the screen there is drawn with. */
export const propsAt = (place: PagePlace): Record<string, unknown> =>
  place.screen === 'bench' ? {} : (LATE[place.screen] as LatePart<Name>).props(place)

export const screenParts = new ScreenParts()
