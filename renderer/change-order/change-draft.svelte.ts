import type { Units } from '../../core/constructions/construction.ts'
import type { OwnConstruction } from '../../core/constructions/own/own-construction.ts'
import { isSuperseded, type Problem } from '../../core/problems.ts'
import { desk } from '../client.ts'
import { OrderDraft, type TypedDraft } from '../new-order/order-draft.svelte.ts'
import type { ChangeAnswer, ChangeView } from '../../desk/orders/change-order.ts'

/** The form of an order that is in the book already: what follows from it is told beside the order as it is. */
export class ChangeDraft extends OrderDraft {
  readonly id: string
  number = $state(0)
  customer = $state('')
  change = $state.raw<ChangeView | null>(null)
  /** What the maker says of steps against the rule: whether their work counts. */
  said: Record<string, boolean> = $state({})
  /** Why the order cannot be changed at all. */
  refused = $state.raw<readonly Problem[]>([])
  #asking = false
  #again = false
  #version = 0
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(id: string, units: () => Units, own: () => readonly OwnConstruction[]) {
    super(units, own)
    this.id = id
  }

  override async load(): Promise<void> {
    const reply = await desk.changeBegin({ id: this.id })
    this.refused = reply.ok ? [] : reply.problems
    if (!reply.ok) return
    this.key = `change-${this.id}`
    this.number = reply.value.number
    this.customer = reply.value.customer
    this.said = {}
    this.change = null
    this.open(structuredClone(reply.value.draft) as TypedDraft)
  }

  say(stepId: string, counts: boolean): void {
    this.said[stepId] = counts
    void this.quote()
  }

  override async quote(): Promise<void> {
    this.#version += 1
    clearTimeout(this.#timer)
    if (this.#asking) {
      this.#again = true
      return
    }
    this.#asking = true
    do {
      this.#again = false
      const reply = await desk.changeCompare({ ...this.#asked(), asked: 'dates' })
      if (reply.ok) this.#take(reply.value)
      // Another page asked about the same order meanwhile, on the phone perhaps: this one asks again.
      else if (isSuperseded(reply)) {
        await new Promise((resolve) => setTimeout(resolve, PAUSE_MS))
        this.#again = true
      }
    } while (this.#again)
    this.#asking = false
    this.workingOutOdds = this.change !== null
    if (this.workingOutOdds) this.#timer = setTimeout(() => void this.withOdds(), PAUSE_MS)
  }

  override async withOdds(): Promise<void> {
    const version = this.#version
    const reply = await desk.changeCompare({ ...this.#asked(), asked: 'odds' })
    if (version !== this.#version) return
    if (isSuperseded(reply)) this.#timer = setTimeout(() => void this.withOdds(), PAUSE_MS)
    else this.workingOutOdds = false
    if (reply.ok) this.#take(reply.value)
  }

  #asked() {
    return { id: this.id, draft: $state.snapshot(this.draft), said: $state.snapshot(this.said) }
  }

  #take(answer: ChangeAnswer): void {
    this.answer = answer
    this.change = answer.change
    this.dayToSay = answer.change?.after.dayToSay ?? ''
  }

  override async discard(): Promise<void> {
    this.stop()
    await this.flush()
    await desk.draftDiscard({ key: this.key })
  }

  override stop(): void {
    super.stop()
    clearTimeout(this.#timer)
    this.#version += 1
  }
}

const PAUSE_MS = 350
