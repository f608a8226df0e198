import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { bringIn, discard } from '../../db/whole-shop/bring-in.ts'
import { readShop } from '../read-shop.ts'
import { placeHere } from '../this-computer.ts'

/** A part of the text of a whole shop that is brought in; `id` is that of the bringing in. */
export interface ShopPart {
  readonly id: string
  readonly index: number
  readonly text: string
}

/** A whole shop that is brought in: it arrives in parts, is made a file beside the present one, and waits there to be opened. */
export class ArrivingShop {
  readonly #path: string
  #arriving: { readonly id: string; readonly parts: string[] } | null = null
  #made: string | null = null

  /** @param path the present shop's file */
  constructor(path: string) {
    this.#path = `${path}-arrived`
  }

  /** Keeps one part until all of them are there. */
  take({ id, index, text }: ShopPart): void {
    if (this.#arriving?.id !== id) this.#arriving = { id, parts: [] }
    this.#arriving.parts[index] = text
  }

  /** Makes a file of so many parts. Problems: `import-incomplete` and those of `bringIn`. */
  async make(id: string, count: number): Promise<Result<{ readonly path: string }>> {
    const arrived = this.#arriving
    if (arrived?.id !== id) return incomplete
    this.discard()
    const parts = Array.from({ length: count }, (_, index) => arrived.parts[index])
    if (parts.some((part) => part === undefined)) return incomplete
    const made = await bringIn(parts.join(''), this.#path, (db) => readShop(db, startingAlmanac(placeHere())))
    if (!made.ok) return made
    this.#made = id
    return ok({ path: this.#path })
  }

  /** The file that was made. Problem: `import-incomplete`. */
  file(id: string): Result<{ readonly path: string; readonly name: string }> {
    return this.#made === id ? ok({ path: this.#path, name: 'this file' }) : incomplete
  }

  discard(): void {
    this.#arriving = null
    this.#made = null
    discard(this.#path)
  }
}

const incomplete = failed(problem('import-incomplete', 'Not all of the file arrived: choose it again.'))
