import { onDestroy, untrack } from 'svelte'

type Drawer = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>

/**
 * A window's name outlives its page and is in memory alone. Chromium writes what is in a session's storage into the window's files, and
 * leaves it there when the form is closed, and when the person of whom it was is erased.
 */
const nameOfWindow: Drawer = {
  getItem: (form) => formsInName()[form] ?? null,
  setItem: (form, text) => {
    window.name = JSON.stringify({ ...formsInName(), [form]: text })
  },
  removeItem: (form) => {
    const { [form]: _, ...others } = formsInName()
    window.name = JSON.stringify(others)
  },
}

const formsInName = (): Readonly<Record<string, string>> =>
  window.name === '' ? {} : (JSON.parse(window.name) as Record<string, string>)

/** In a browser another site that is opened in the same tab might read its name; what the browser keeps where is its own business. */
const drawer: Drawer = window.outOfClamps === undefined ? sessionStorage : nameOfWindow

/** The page is about to be loaded anew: what is torn down now, as its last questions are broken off, was not closed by anybody. */
let isLeaving = false
addEventListener('beforeunload', () => (isLeaving = true))
// It stayed after all: whoever presses something goes on with it.
for (const pressed of ['pageshow', 'pointerdown', 'keydown'])
  addEventListener(pressed, () => (isLeaving = false), { capture: true })

/**
 * What is typed in a form, there again when the page is loaded anew while it is open: its process died, or the maker
 * pressed reload. It is forgotten when the form closes. Orders and constructions are kept by the desk, keystroke by keystroke.
 */
export class KeptTyping<T> {
  value = $state() as T

  /**
   * To be made while a component is.
   * @param form what is typed in, and whose: "places p1"; one component at a time
   * @param start what the form holds when it is opened; null while it is closed
   */
  constructor(form: string, start: T) {
    const keptAs = `typed ${form}`
    // Some pages have a hundred fields, of which one is typed in.
    const forget = (): void => {
      if (!isLeaving && drawer.getItem(keptAs) !== null) drawer.removeItem(keptAs)
    }
    const kept = drawer.getItem(keptAs)
    this.value = kept === null ? start : (JSON.parse(kept) as T)
    $effect(() => {
      if (this.value === null) forget()
      else drawer.setItem(keptAs, JSON.stringify(this.value))
    })
    onDestroy(forget)
  }
}

/** A form that changes something: as it stood when it was last looked at, and as it is typed. */
export interface Changing<T> {
  readonly from: T
  readonly now: T
}

/** What was not touched in a form follows what it changes: what was changed elsewhere meanwhile is not changed back by it. */
export const following = <T extends object>({ from: before, now }: Changing<T>, from: T): Changing<T> => ({
  from,
  now: untouchedFrom(before, now, from) as T,
})

function untouchedFrom(before: unknown, now: unknown, from: unknown): unknown {
  if (!isGroup(before) || !isGroup(now) || !isGroup(from))
    return JSON.stringify(now) === JSON.stringify(before) ? from : now
  return Object.fromEntries(Object.keys(from).map((key) => [key, untouchedFrom(before[key], now[key], from[key])]))
}

const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** A copy of one's own to type in, however deep. */
type Own<T> = { -readonly [Key in keyof T]: Own<T[Key]> }

/** The same typing in a form that is open as long as its component is, and changes what may be changed elsewhere meanwhile. */
export class KeptChange<T extends object> {
  readonly #typing: KeptTyping<{ from: T; readonly now: Own<T> }>

  /** @param standing what the form holds as long as nothing is typed; called again when that is another */
  constructor(form: string, standing: () => T) {
    const copy = (of: T): Own<T> => JSON.parse(JSON.stringify(of)) as Own<T>
    this.#typing = new KeptTyping(form, { from: standing(), now: copy(standing()) })
    $effect(() => {
      const stands = standing()
      untrack(() => {
        const { from, now } = following<T>(this.#typing.value as Changing<T>, stands)
        const typed = this.#typing.value.now
        this.#typing.value.from = from
        for (const key of Object.keys(now) as (keyof T)[])
          if (JSON.stringify(now[key]) !== JSON.stringify(typed[key])) typed[key] = copy(now)[key]
      })
    })
  }

  get value(): Own<T> {
    return this.#typing.value.now
  }
}
