import type { SpecInput, SpecValue } from '../../../core/constructions/construction.ts'
import { makeConstruction } from '../../../core/constructions/own/make-construction.ts'
import { formulaValues } from '../../../core/constructions/own/own-example.ts'
import { readOwnConstruction } from '../../../core/constructions/own/read-own-construction.ts'
import type { Problem } from '../../../core/problems.ts'
import { desk } from '../../client.ts'
import { said } from '../../said.svelte.ts'
import { shop } from '../../shop.svelte.ts'
import type { ConstructionDraft, ConstructionTrial } from '../../../desk/almanac/own-constructions.ts'

/**
 * A construction while it is being written. Every keystroke is checked here and kept by the desk; an example of it is planned
 * when the typing pauses.
 */
export class ConstructionWriting {
  readonly key: string
  readonly id: string
  input = $state.raw<SpecInput>({})
  trial = $state.raw<ConstructionTrial | null>(null)
  /** Why the newest text could not be kept. */
  saveProblems = $state.raw<readonly Problem[]>([])
  /** Empty fields are not called wrong before somebody tried to save. */
  sayEverything = $state(false)

  readonly #read = $derived.by(() =>
    shop.almanac === null || shop.facts === null
      ? null
      : readOwnConstruction(this.input, this.id, shop.almanac.constructions, shop.facts),
  )
  readonly problems = $derived<readonly Problem[]>(this.#read === null || this.#read.ok ? [] : this.#read.problems)
  /** As far as it goes; undefined while it makes no sense. */
  readonly construction = $derived(this.#read?.ok === true ? makeConstruction(this.#read.value) : undefined)
  readonly values = $derived.by((): ReadonlyMap<string, string> =>
    shop.facts === null ? NO_VALUES : formulaValues(this.input, shop.facts),
  )

  #unsaved = false
  #saving: Promise<void> | null = null
  #timer: ReturnType<typeof setTimeout> | undefined
  #asked = 0

  constructor({ key, id, input }: ConstructionDraft) {
    this.key = key
    this.id = id
    this.input = input
    void this.try()
  }

  put(field: string, value: SpecValue): void {
    this.input = { ...this.input, [field]: value }
    this.#unsaved = true
    void this.flush()
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => void this.try(), PAUSE_MS)
  }

  /** Keeps the newest text; while one is being kept the next waits, and then only the newest goes. */
  async flush(): Promise<void> {
    this.#saving ??= this.#saveAll()
    await this.#saving
    this.#saving = null
  }

  async #saveAll(): Promise<void> {
    while (this.#unsaved) {
      this.#unsaved = false
      const reply = await desk.constructionDraftSave({ key: this.key, id: this.id, input: this.input })
      this.saveProblems = reply.ok ? [] : reply.problems
    }
  }

  async try(): Promise<void> {
    const mine = ++this.#asked
    const reply = await desk.constructionTry({ id: this.id, input: this.input })
    if (mine === this.#asked && reply.ok) this.trial = reply.value
  }

  /** What is wrong with one field, as far as it is to be said already. */
  problemsOf(path: string): readonly Problem[] {
    const found = this.problems.filter((problem) => problem.field === path)
    return this.sayEverything || isTyped(this.input, path) ? found : []
  }

  /** What is wrong with no field of the form in particular. */
  get others(): readonly Problem[] {
    return this.problems.filter(
      ({ field }) => field === undefined || !/^(name|about|units|fields|parts|steps)(\.|$)/.test(field),
    )
  }

  /** True when it was saved. */
  async save(): Promise<boolean> {
    await this.flush()
    const { id, input } = this
    const saved = await said.after(() => desk.almanacSave({ list: 'constructions', item: { id, input } }))
    if (saved) await desk.constructionDraftDrop({ key: this.key })
    this.saveProblems = said.problems.filter(({ field }) => field === undefined)
    if (!saved) said.clear()
    this.sayEverything = !saved
    return saved
  }

  async throwAway(): Promise<void> {
    await this.flush()
    await desk.constructionDraftDrop({ key: this.key })
  }

  stop(): void {
    clearTimeout(this.#timer)
    this.#asked += 1
  }
}

const PAUSE_MS = 350
const NO_VALUES: ReadonlyMap<string, string> = new Map()

/** Whole lists count as typed. */
function isTyped(input: SpecInput, path: string): boolean {
  const [list = '', row, key] = path.split('.')
  const value = input[list]
  if (typeof value === 'string' || typeof value === 'boolean' || value === undefined) return value !== ''
  return key === undefined ? row !== undefined || value.length > 0 : (value[Number(row)]?.[key] ?? '') !== ''
}
