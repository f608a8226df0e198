import type { Notice } from '../desk/desk-event.ts'
import { shopFactsOf } from '../core/almanac/shop-facts.ts'
import { isoCurrency } from '../core/money/currency.ts'
import type { Almanac } from '../core/almanac/almanac.ts'
import type { Wording } from '../core/time/write-instant.ts'
import type { Problem } from '../core/problems.ts'
import { answersDue } from './answers-due.ts'
import { said } from './said.svelte.ts'
import { clock } from './clock.svelte.ts'
import { desk, onDeskEvent } from './client.ts'
import { isOnDevice, isOutOfReach } from './devices/post-call.ts'
import { putAway } from './devices/put-away.ts'
import type { BetterDates, ShopState } from '../desk/shop-state.ts'

/** The shop as all screens need it, the count of its changes, and the notices that the maker has not put away yet. */
class Shop {
  state = $state.raw<ShopState | null>(null)
  /** The facts of the shop; null while its file is not open. */
  almanac = $state.raw<Almanac | null>(null)
  /** Why the desk gave no state at all. */
  problems = $state.raw<readonly Problem[]>([])
  /** Goes up whenever the book, the plan or the almanac changed: who reads it asks again. */
  changes = $state(0)
  betterDates = $state.raw<BetterDates>({ kind: 'nothing-to-look-for' })
  /** Goes up whenever other odds are worked out. */
  oddsChanges = $state(0)
  notices = $state.raw<readonly Notice[]>([])

  timeZone = $derived(this.state?.timeZone ?? 'UTC')
  /** How times and days are written. */
  wording = $derived<Wording>({ timeZone: this.timeZone, locale: this.state?.locale ?? 'en-GB' })
  /** Whether its clock says AM and PM. */
  hour12 = $derived(new Intl.DateTimeFormat(this.wording.locale, { hour: 'numeric' }).resolvedOptions().hour12 === true)
  units = $derived(this.state?.units ?? 'inch')
  /** The almanac as constructions ask it for a piece that is built today. */
  facts = $derived(this.almanac === null ? null : shopFactsOf(this.almanac, clock.dayMin))
  currency = $derived(this.state?.currency ?? isoCurrency('USD'))

  /** Whether this page may do such things: all of them at the desk itself, some on a paired phone or tablet. */
  may(right: 'press' | 'orders' | 'desk'): boolean {
    const device = this.state?.device ?? null
    if (device === null) return true
    return right !== 'desk' && (device.right === 'orders' || device.right === right)
  }

  /** A phone or tablet takes back what was done on it, nothing else. */
  mayUndo({ device }: { readonly device: string | null }): boolean {
    const own = this.state?.device ?? null
    return own === null || (this.may('press') && device === own.name)
  }

  /** Begins to follow the desk; returns the function that stops it. */
  follow(): () => void {
    void this.ask()
    return onDeskEvent((event) => {
      switch (event.kind) {
        case 'changed':
          this.changes += 1
          answersDue.hearChange()
          void this.ask()
          return
        case 'odds':
          this.oddsChanges += 1
          said.hear(event.moved)
          return
        case 'better-dates':
          this.betterDates = event.betterDates
          return
        case 'notice':
          putAway.forget(event.notice.id)
          this.notices = [...this.notices.filter((notice) => notice.id !== event.notice.id), event.notice]
          return
      }
    })
  }

  /** State and almanac come together: a screen that counts on both would draw something else in between. */
  async ask(): Promise<void> {
    const [reply, almanac] = await Promise.all([desk.shopState(), desk.almanac()])
    if (!reply.ok) {
      // A phone out of reach goes on showing what it has: presses are kept until the desk can be told.
      const showsOn = isOnDevice && this.state !== null && isOutOfReach(reply.problems)
      if (!showsOn) this.problems = reply.problems
      return
    }
    this.problems = []
    clock.set(reply.value.nowMs, reply.value.clockHeld)
    this.state = reply.value
    if (almanac.ok) this.almanac = almanac.value.almanac
    this.betterDates = reply.value.betterDates
    await (reply.value.device === null ? this.#dropWhatIsDone() : this.#hearWhatWasTold())
  }

  /** A phone is not there all day: what was told meanwhile it shows once it is, and what is done or sleeps it drops. */
  async #hearWhatWasTold(): Promise<void> {
    const had = new Set(this.notices.map(({ id }) => id))
    const reply = await desk.noticesTold()
    if (!reply.ok) return
    const told = new Map(reply.value.map((notice) => [notice.id, notice]))
    putAway.keepOnly(told)
    const left = this.notices.filter(({ id }) => told.has(id) || !had.has(id))
    const missed = reply.value.filter(({ id }) => !putAway.has(id) && left.every((one) => one.id !== id))
    this.notices = [...missed, ...left]
  }

  /** A notice goes once what it speaks of is done. */
  async #dropWhatIsDone(): Promise<void> {
    if (this.notices.length === 0) return
    const asked = this.notices.map(({ id }) => id)
    const reply = await desk.noticesDue({ ids: asked })
    if (!reply.ok) return
    // What came meanwhile was not asked about.
    const due = new Set(reply.value)
    const done = new Set(asked.filter((id) => !due.has(id)))
    this.notices = this.notices.filter(({ id }) => !done.has(id))
  }

  async sleep(id: string, wakesAtMin: number): Promise<void> {
    const reply = await desk.noticeSleep({ id, wakesAtMin })
    if (reply.ok) this.#drop(id)
  }

  putAway(id: string): void {
    putAway.add(id)
    this.#drop(id)
  }

  #drop(id: string): void {
    this.notices = this.notices.filter((notice) => notice.id !== id)
  }
}

export const shop = new Shop()
