import { ALMANAC_HOME, readHome } from '../../core/almanac/home.ts'
import { inputOfAnother } from '../../core/book/asked-piece.ts'
import { constructionOf, constructions } from '../../core/constructions/constructions.ts'
import type { Construction, Units } from '../../core/constructions/construction.ts'
import type { OwnConstruction } from '../../core/constructions/own/own-construction.ts'
import { startingIn } from '../../core/almanac/usual-choices.ts'
import { isSuperseded, type Problem } from '../../core/problems.ts'
import type { OrderDraftLine } from '../../desk/orders/order-drafts.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { desk } from '../client.ts'
import { clock } from '../clock.svelte.ts'
import { shop } from '../shop.svelte.ts'
import { draftOpen } from './draft-open.svelte.ts'
import { withMoreKept, withOddsKept } from './odds-kept.ts'
import type { DraftAnswer, OfferView } from '../../desk/orders/draft-answer.ts'
import type { Draft } from '../../desk/orders/draft.ts'

type Typed<T> = T extends readonly (infer Item)[]
  ? Typed<Item>[]
  : T extends object
    ? { -readonly [Key in keyof T]: Typed<T[Key]> }
    : T

/** The draft as the form types into it. */
export type TypedDraft = Typed<Draft>
export type TypedPiece = TypedDraft['pieces'][number]

/**
 * The order form. Whatever is typed goes to the desk at once, newest text last, and is there again after a restart; what
 * follows from it (problems, steps, dates) comes back while typing: first the plain date, then its odds.
 */
export class OrderDraft {
  draft: TypedDraft = $state(emptyDraft('inch'))
  /** Tells this one from the others that are being typed; however often it is taken with it, it becomes one order. */
  key = $state('')
  /** All that are being typed, as of when this one was opened. */
  kept = $state.raw<readonly OrderDraftLine[]>([])
  answer = $state.raw<DraftAnswer | null>(null)
  /** The day to say of the first offer by its odds; empty where there is none. Stays while newer odds are worked out. */
  dayToSay = $state('')
  /** The odds of the newest answer are still being worked out. */
  workingOutOdds = $state(false)
  /** What more hours or clamps would buy is still being tried. */
  tryingMore = $state(false)
  /** Why the newest draft could not be kept. */
  saveProblems = $state.raw<readonly Problem[]>([])
  loaded = $state(false)
  /** The promise date that was chosen or typed; null: the day to say of the first offer. */
  promise: string | null = $state(null)
  /** The offer that it was chosen from. */
  chosenOffer: Pick<OfferView, 'kind' | 'takes'> | null = $state.raw(null)
  /** Fields that have been typed into: what is wrong in the others is not said before the order is to be taken. */
  touched: Record<string, true> = $state({})
  sayEverything = $state(false)

  /** The shop as constructions ask it for this order, built today for the home it goes to. */
  readonly facts = $derived.by(() => {
    const { almanac } = shop
    if (almanac === null) return null
    const home = readHome(this.draft.home, almanac.shop.units)
    return shopFactsOf(almanac, clock.dayMin, home.ok ? home.value : null)
  })

  #unsaved = false
  #saving: Promise<void> | null = null
  #quoting = false
  #quoteAgain = false
  #changes = 0
  #oddsTimer: ReturnType<typeof setTimeout> | undefined
  readonly #units: () => Units
  readonly #own: () => readonly OwnConstruction[]

  /** @param own constructions of the maker's own */
  constructor(units: () => Units, own: () => readonly OwnConstruction[]) {
    this.#units = units
    this.#own = own
  }

  /** @param key of the draft to open; null: the one typed in last */
  async load(key: string | null): Promise<void> {
    const lines = await desk.drafts()
    this.kept = lines.ok ? lines.value : []
    this.key = key ?? this.kept[0]?.key ?? crypto.randomUUID()
    draftOpen.key = this.key
    const reply = await desk.draftLoad({ key: this.key })
    this.open(reply.ok && reply.value !== null ? (structuredClone(reply.value) as TypedDraft) : null)
  }

  /** Leaves this draft as it is, and goes on with another one. */
  async switchTo(key: string): Promise<void> {
    await this.flush()
    await this.load(key)
  }

  /** Leaves this draft as it is, and begins an empty one. */
  startAnother(): Promise<void> {
    return this.switchTo(crypto.randomUUID())
  }

  protected open(draft: TypedDraft | null): void {
    this.stop()
    this.draft = draft ?? emptyDraft(this.#units())
    this.answer = null
    this.promise = null
    this.chosenOffer = null
    this.sayEverything = false
    this.touched = {}
    this.loaded = true
    void this.quote()
  }

  /** To be called after every change of the draft. */
  typed(field: string): void {
    this.touched[field] = true
    // A day that an offer gave for other pieces, or for lumber from elsewhere, is no offer for these.
    if (this.chosenOffer !== null && /^(pieces|lumber)/.test(field)) {
      this.promise = null
      this.chosenOffer = null
    }
    this.#unsaved = true
    this.#changes += 1
    this.tryingMore = false
    void this.flush()
    void this.quote()
  }

  /** Keeps the newest draft; while one is being kept the next waits, and then only the newest goes. */
  async flush(): Promise<void> {
    if (this.#saving !== null) return this.#saving
    this.#saving = this.#saveAll()
    await this.#saving
    this.#saving = null
  }

  async #saveAll(): Promise<void> {
    while (this.#unsaved) {
      this.#unsaved = false
      const reply = await desk.draftSave({ key: this.key, draft: $state.snapshot(this.draft) })
      this.saveProblems = reply.ok ? [] : reply.problems
    }
  }

  /** Asks what follows from the draft as it is now. */
  async quote(): Promise<void> {
    if (this.#quoting) {
      this.#quoteAgain = true
      return
    }
    this.#quoting = true
    do {
      this.#quoteAgain = false
      const reply = await desk.draftQuote({ draft: $state.snapshot(this.draft), asked: 'dates' })
      if (reply.ok) this.answer = withOddsKept(reply.value, this.answer)
      // Another page asked meanwhile, on the phone perhaps: this one asks again.
      else if (isSuperseded(reply)) {
        await new Promise((resolve) => setTimeout(resolve, PAUSE_MS))
        this.#quoteAgain = true
      } else this.answer = { problems: reply.problems, pieces: [], wood: null, price: null, lumber: null, offers: [] }
    } while (this.#quoteAgain)
    this.#quoting = false
    this.#askForOdds()
  }

  /** Odds take a moment to work out, so they are asked for when the typing pauses. */
  #askForOdds(): void {
    clearTimeout(this.#oddsTimer)
    this.workingOutOdds = this.answer !== null && this.answer.offers.length > 0
    if (!this.workingOutOdds) this.dayToSay = ''
    else this.#oddsTimer = setTimeout(() => void this.withOdds(), PAUSE_MS)
  }

  /** Works the odds of the draft as it is now out at once, and after them what more hours would buy. */
  async withOdds(): Promise<void> {
    clearTimeout(this.#oddsTimer)
    const asked = this.#changes
    const reply = await desk.draftQuote({ draft: $state.snapshot(this.draft), asked: 'odds' })
    if (asked !== this.#changes) return
    if (isSuperseded(reply)) return this.#askForOdds()
    this.workingOutOdds = false
    if (!reply.ok) return
    this.answer = withMoreKept(reply.value, this.answer)
    this.dayToSay = reply.value.offers[0]?.dayToSay ?? ''
    void this.#withMore()
  }

  async #withMore(): Promise<void> {
    const asked = this.#changes
    this.tryingMore = true
    const reply = await desk.draftQuote({ draft: $state.snapshot(this.draft), asked: 'all-offers' })
    if (asked !== this.#changes) return
    if (isSuperseded(reply)) {
      this.#oddsTimer = setTimeout(() => void this.#withMore(), PAUSE_MS)
      return
    }
    this.tryingMore = false
    if (reply.ok) this.answer = reply.value
  }

  /** What is wrong with a field, as far as it is to be said already. */
  problemsOf(field: string): readonly Problem[] {
    if (!this.sayEverything && this.touched[field] === undefined) return []
    return this.answer?.problems.filter((problem) => problem.field === field) ?? []
  }

  /** @param offer that the day comes from; absent: a day of one's own */
  choose(promise: string, offer: OfferView | null = null): void {
    this.promise = promise
    this.chosenOffer = offer && { kind: offer.kind, takes: offer.takes }
  }

  isChosen({ kind, takes, dayToSay }: OfferView): boolean {
    return this.promise === dayToSay && this.chosenOffer?.kind === kind && this.chosenOffer.takes === takes
  }

  addPiece(): void {
    const last = this.draft.pieces.at(-1)
    this.draft.pieces.push(emptyPiece(last?.construction ?? '', this.#units(), this.#own()))
    this.typed('pieces')
  }

  removePiece(position: number): void {
    this.draft.pieces.splice(position, 1)
    this.touched = {}
    this.typed('pieces')
  }

  /** Another construction keeps what both have fields of the same name for: woods, sizes, a finish that was chosen. */
  changeConstruction(position: number, id: string): void {
    const piece = this.draft.pieces[position]
    const to = constructionOf(id, this.#own())
    if (piece === undefined || to === undefined) return
    const from = constructionOf(piece.construction, this.#own())
    piece.input = structuredClone(
      inputOfAnother($state.snapshot(piece.input), { from, to }, this.#units(), shop.almanac),
    ) as TypedPiece['input']
    piece.construction = id
    this.typed(`pieces.${position}.construction`)
  }

  async discard(): Promise<void> {
    await this.flush()
    await desk.draftDiscard({ key: this.key })
    await this.load(null)
  }

  /** Begins anew after the order was taken; the desk has put the draft away itself. */
  stop(): void {
    clearTimeout(this.#oddsTimer)
    this.#changes += 1
  }
}

const PAUSE_MS = 350

export function emptyDraft(units: Units): TypedDraft {
  return {
    customer: { name: '', reach: '', secondReach: '', address: '', allergies: '', childUnder3: 'not-asked' },
    takenWhere: 'in-person',
    pieces: [emptyPiece('', units)],
    neededBy: '',
    neededWhy: '',
    notes: '',
    home: ALMANAC_HOME,
    price: '',
    deposit: '',
    depositHow: '',
  }
}

/** A piece of that construction, or of the first one there is, as its form begins. */
export function emptyPiece(id: string, units: Units, own: readonly OwnConstruction[] = []): TypedPiece {
  const construction = constructionOf(id, own) ?? constructions[0]
  return {
    construction: construction?.id ?? '',
    input: construction === undefined ? {} : begun(construction, units),
    count: '1',
  }
}

/** Its fields as they begin in this shop. */
const begun = (construction: Construction<unknown>, units: Units): TypedPiece['input'] =>
  structuredClone(startingIn(construction, units, shop.almanac)) as TypedPiece['input']

/** Whether anything was typed at all. */
export function saysAnything(draft: Draft, units: Units): boolean {
  return JSON.stringify(draft) !== JSON.stringify(emptyDraft(units))
}
