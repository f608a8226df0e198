import { onDestroy } from 'svelte'

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

/**
 * What is typed in a short form, there again when the page is loaded anew while it is open: its process died, or the maker
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
    const kept = drawer.getItem(keptAs)
    this.value = kept === null ? start : (JSON.parse(kept) as T)
    $effect(() => {
      if (this.value === null) drawer.removeItem(keptAs)
      else drawer.setItem(keptAs, JSON.stringify(this.value))
    })
    onDestroy(() => drawer.removeItem(keptAs))
  }
}
