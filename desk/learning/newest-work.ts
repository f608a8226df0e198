import { workAt, type StepWork } from '../../core/book/work-done.ts'
import { isMoreThanWorkSince, lastEntryId } from '../../db/log.ts'
import { newestWorkLogged, workLoggedSince, type WorkLogged } from '../../db/work-logged.ts'
import { othersFirst } from '../others-first.ts'
import type { OpenShop } from '../open-shop.ts'

/**
 * Learning reads so many of the newest entries, about 130 orders: ten times as many would say the same, as old ones count ever less, and
 * take ten times as long.
 */
export const LEARNED_FROM = { newest: 12_000 } as const

/** The newest work in the log. */
export interface NewestWork {
  readonly work: WorkLogged
  /** What was worked at each of its steps. */
  readonly works: ReadonlyMap<string, StepWork>
  /** The same object for as long as no stretch of work has ended, been corrected or taken back. */
  readonly over: object
}

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
    isFew && !(await isMoreThanWorkSince(shop.db, before.upTo))
      ? { readUpTo: before.readUpTo, upTo, newest: readMore(shop, before) }
      : { readUpTo: upTo, upTo, newest: readAnew(shop) }
  kept.set(shop, now)
  now.newest.catch(() => {
    if (kept.get(shop) === now) kept.delete(shop)
  })
  return now.newest
}

async function readAnew({ db }: OpenShop): Promise<NewestWork> {
  const work = await newestWorkLogged(db, LEARNED_FROM.newest, othersFirst)
  return { work, works: workAt(work.entries), over: {} }
}

async function readMore({ db }: OpenShop, { newest, upTo }: Kept): Promise<NewestWork> {
  const { work: before, works: worksBefore, over } = await newest
  // Steps come whole, with all their entries.
  const more = await workLoggedSince(db, upTo)
  const again = new Set(more.steps.map(({ id }) => id))
  const replaced = before.entries.filter(({ stepId }) => again.has(stepId))
  const moreWorks = workAt(more.entries)
  const isOver = [workAt(replaced), moreWorks].some((works) =>
    [...works.values()].some(({ stretches, done }) => stretches.length > 0 || done !== null),
  )
  const hasFailed = [...replaced, ...more.entries].some(({ action }) => action.kind === 'failed')
  const steps = [...before.steps.filter(({ id }) => !again.has(id)), ...more.steps]
  const works = new Map(worksBefore)
  for (const id of again) works.delete(id)
  for (const [id, work] of moreWorks) works.set(id, work)
  const entries = [...before.entries.filter(({ stepId }) => !again.has(stepId)), ...more.entries]
  return {
    work: {
      steps: steps.sort((a, b) => (a.id < b.id ? -1 : 1)),
      entries: entries.sort((a, b) => a.id - b.id),
      since: before.since,
    },
    works,
    over: isOver || hasFailed ? {} : over,
  }
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
