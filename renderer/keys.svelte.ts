/**
 * Single keys that do something while no field has the focus. They are shown beside what they do on request (`?`, or
 * while Alt is held), and can be switched off for those who speak to their computer.
 */
class Keys {
  held = $state(false)
  pinned = $state(false)
  on = $state(localStorage.getItem('single-keys') !== 'off')

  shown = $derived(this.on && (this.held || this.pinned))

  #actions = new Map<string, () => void>()

  /** Gives a key an action while a component is there; returns the function that takes it back. */
  add(key: string, action: () => void): () => void {
    const name = key.toLowerCase()
    const before = this.#actions.get(name)
    this.#actions.set(name, action)
    return () => {
      if (this.#actions.get(name) !== action) return
      if (before === undefined) this.#actions.delete(name)
      else this.#actions.set(name, before)
    }
  }

  switch(on: boolean): void {
    this.on = on
    localStorage.setItem('single-keys', on ? 'on' : 'off')
  }

  /** Begins to listen; returns the function that stops it. */
  listen(): () => void {
    const down = (event: KeyboardEvent) => {
      if (event.key === 'Alt') this.held = true
      if (!this.on || event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return
      if (event.key === '?') {
        this.pinned = !this.pinned
        return
      }
      const action = this.#actions.get(event.key.toLowerCase())
      if (action === undefined || event.repeat) return
      event.preventDefault()
      action()
    }
    const up = (event: KeyboardEvent) => {
      if (event.key === 'Alt') this.held = false
    }
    const away = () => {
      this.held = false
    }
    addEventListener('keydown', down)
    addEventListener('keyup', up)
    addEventListener('blur', away)
    return () => {
      removeEventListener('keydown', down)
      removeEventListener('keyup', up)
      removeEventListener('blur', away)
    }
  }
}

export const keys = new Keys()

function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false
  if (target.isContentEditable || target.closest('dialog') !== null) return true
  if (target instanceof HTMLInputElement) return !['checkbox', 'radio', 'button', 'submit'].includes(target.type)
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement
}
