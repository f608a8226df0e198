import { KeptTyping } from './kept-typing.svelte.ts'
import { said } from './said.svelte.ts'

/** A field that is kept when it is left: what is typed stays on the screen until what was kept is. */
export class TypedInPlace {
  readonly #typing: KeptTyping<string | null>
  /** What was sent last and is not on the screen yet. */
  #sent: string | null = null
  /** Typed before the page was loaded anew: whoever was in the field is in it again, so that leaving it keeps it. */
  readonly #comesBack: boolean

  /**
   * To be made while a component is.
   * @param field by which it is known: one at a time
   */
  constructor(field: string) {
    this.#typing = new KeptTyping<string | null>(field, null)
    this.#comesBack = this.text !== null
  }

  /** What is typed and not kept yet; null: nothing. */
  get text(): string | null {
    return this.#typing.value
  }

  set text(text: string | null) {
    this.#typing.value = text
  }

  readonly backIn = (field: HTMLElement): void => {
    if (this.#comesBack) field.focus()
  }

  /**
   * Keeps what is typed where it differs from what stands; false when it was refused: it stays typed then.
   * @param standing what the field shows while nothing is typed
   */
  async keep(standing: string, save: (text: string) => Promise<boolean>): Promise<boolean> {
    const asked = this.text
    if (asked === null || asked === this.#sent) return true
    if (asked.trim() !== (this.#sent ?? standing)) {
      this.#sent = asked
      const kept = await save(asked)
      if (kept) await said.onScreen()
      if (this.#sent === asked) this.#sent = null
      if (!kept) return false
    }
    // What was typed meanwhile is kept in its turn.
    if (this.text === asked) this.text = null
    return true
  }
}
