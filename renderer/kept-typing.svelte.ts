import { onDestroy } from 'svelte'

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
    const kept = sessionStorage.getItem(keptAs)
    this.value = kept === null ? start : (JSON.parse(kept) as T)
    $effect(() => {
      if (this.value === null) sessionStorage.removeItem(keptAs)
      else sessionStorage.setItem(keptAs, JSON.stringify(this.value))
    })
    onDestroy(() => sessionStorage.removeItem(keptAs))
  }
}
