import type { StepEntry } from '../../core/book/book.ts'
import { NO_WORK, workAt, type StepWork } from '../../core/book/work-done.ts'
import { lastEntryId } from '../../db/log.ts'
import { newestWorkLogged, workLoggedSince, type WorkLogged } from '../../db/work-logged.ts'
import { lastMore } from '../kept-until-more.ts'
import { othersFirst } from '../others-first.ts'
import type { OpenShop } from '../open-shop.ts'

/**
 * Learning reads so many of the newest entries, about 130 orders: ten times as many would say the same, as old ones count ever less, and
 * take ten times as long.
 */
export const LEARNED_FROM = { newest: 12_000 } as const

/** A step with what was written of it and counts, oldest first, and what was worked at it. */
interface StepAtWork {
  readonly step: WorkLogged['steps'][number]
  readonly entries: readonly StepEntry[]
  readonly work: StepWork
}

/**
 * The newest work in the log: thousands of steps as they were when all of them were read, and the few that were read again since. What takes
 * all of them together is put together when it is asked for, as after most presses nobody does.
 */
export class NewestWork {
  readonly #read: ReadonlyMap<string, StepAtWork>
  readonly #first: StepEntry | null
  readonly #running: readonly string[]
  readonly #again: ReadonlyMap<string, StepAtWork>
  /** Instant of its first entry, minutes since the Unix epoch, where older work is left out; null: none is. */
  readonly since: number | null
  /** The same object for as long as no stretch of work has ended, been corrected or taken back. */
  readonly over: object
  #all: readonly StepAtWork[] | null = null

  private constructor(of: Pick<NewestWork, 'since' | 'over'> & OfSteps) {
    this.#read = of.read
    this.#first = of.first
    this.#running = of.running
    this.#again = of.again
    this.since = of.since
    this.over = of.over
  }

  static of(work: WorkLogged): NewestWork {
    const read = byStep(work)
    const running = [...read.values()].flatMap((one) => (one.work.running === null ? [] : [one.step.id]))
    const first = work.entries[0] ?? null
    return new NewestWork({ read, first, running, again: new Map(), since: work.since, over: {} })
  }

  /** The same with these steps as they are now. */
  with(more: WorkLogged): NewestWork {
    const now = byStep(more)
    const isOver = [...now].some(([id, one]) => hasOver(one) || hasOver(this.at(id)))
    return new NewestWork({
      ...{ read: this.#read, first: this.#first, running: this.#running, again: new Map([...this.#again, ...now]) },
      ...{ since: this.since, over: isOver ? {} : this.over },
    })
  }

  at(stepId: string): StepAtWork | undefined {
    return this.#again.get(stepId) ?? this.#read.get(stepId)
  }

  all(): readonly StepAtWork[] {
    return (this.#all ??= [
      ...[...this.#read].flatMap(([id, one]) => (this.#again.has(id) ? [] : [one])),
      ...this.#again.values(),
    ])
  }

  steps(): readonly StepAtWork['step'][] {
    return this.all().map(({ step }) => step)
  }

  /** All of it that counts, in the order in which it was written. */
  entries(): readonly StepEntry[] {
    return this.all()
      .flatMap(({ entries }) => entries)
      .sort((a, b) => a.id - b.id)
  }

  /** The one that was written first; null: there is none. */
  firstEntry(): StepEntry | null {
    // The first of all that were read, unless its step was read again.
    if (this.#first === null || this.#again.has(this.#first.stepId)) return this.entries()[0] ?? null
    const again = [...this.#again.values()].flatMap(({ entries: [first] }) => first ?? [])
    return again.reduce((first, each) => (each.id < first.id ? each : first), this.#first)
  }

  running(): readonly StepAtWork[] {
    const ids = new Set([...this.#running, ...this.#again.keys()])
    return [...ids].flatMap((id) => this.at(id) ?? []).filter(({ work }) => work.running !== null)
  }
}

interface OfSteps {
  readonly read: ReadonlyMap<string, StepAtWork>
  readonly first: StepEntry | null
  readonly running: readonly string[]
  readonly again: ReadonlyMap<string, StepAtWork>
}

function byStep({ steps, entries }: WorkLogged): ReadonlyMap<string, StepAtWork> {
  const works = workAt(entries)
  const own = Map.groupBy(entries, ({ stepId }) => stepId)
  return new Map(
    steps.map((step) => [step.id, { step, entries: own.get(step.id) ?? [], work: works.get(step.id) ?? NO_WORK }]),
  )
}

/** Something of it is over, or has failed. */
const hasOver = (one: StepAtWork | undefined): boolean =>
  one !== undefined &&
  (one.work.stretches.length > 0 ||
    one.work.done !== null ||
    one.entries.some(({ action }) => action.kind === 'failed'))

interface Kept {
  /** Number of the newest entry when all of it was read, and now. */
  readonly readUpTo: number
  readonly upTo: number
  readonly newest: Promise<NewestWork>
}

const kept = new WeakMap<OpenShop, Kept>()

/** So small a share of new entries may stand beside the old ones that they should have pushed out. */
const MORE_SHARE = 0.01

/** Only those steps of it are read again about which something was written down since the last time. */
export async function newestWork(shop: OpenShop): Promise<NewestWork> {
  const upTo = await lastEntryId(shop.db)
  const before = kept.get(shop)
  if (before?.upTo === upTo) return before.newest
  const isFew = before !== undefined && upTo - before.readUpTo <= MORE_SHARE * LEARNED_FROM.newest
  const now: Kept =
    isFew && (await lastMore(shop, upTo)) <= before.upTo
      ? { readUpTo: before.readUpTo, upTo, newest: readMore(shop, before) }
      : { readUpTo: upTo, upTo, newest: readAnew(shop) }
  kept.set(shop, now)
  now.newest.catch(() => {
    if (kept.get(shop) === now) kept.delete(shop)
  })
  return now.newest
}

async function readAnew({ db }: OpenShop): Promise<NewestWork> {
  return NewestWork.of(await newestWorkLogged(db, LEARNED_FROM.newest, othersFirst))
}

async function readMore({ db }: OpenShop, { newest, upTo }: Kept): Promise<NewestWork> {
  // Steps come whole, with all their entries.
  return (await newest).with(await workLoggedSince(db, upTo))
}

const whatFollows = new WeakMap<object, Map<string, { readonly facts: readonly unknown[]; readonly value: unknown }>>()

/** Keeps what follows from work that is over: found anew when more of it is, or with other facts. */
export function whileOver<T>(over: object, name: string, facts: readonly unknown[], find: () => T): T {
  const all = whatFollows.get(over) ?? new Map<string, { facts: readonly unknown[]; value: unknown }>()
  whatFollows.set(over, all)
  const before = all.get(name)
  if (before?.facts.every((fact, at) => fact === facts[at]) === true) return before.value as T
  const value = find()
  all.set(name, { facts, value })
  return value
}
