import { minutesOver, NO_WORK } from '../../core/book/work-done.ts'
import { sum } from '../../core/money/exact.ts'
import type { RemakeRecord } from '../../core/money/remake-reserve.ts'
import { failuresLogged, piecesBegun } from '../../db/work-logged.ts'
import { failureSince, lastEntryId } from '../../db/log.ts'
import type { OpenShop } from '../open-shop.ts'
import { othersFirst } from '../others-first.ts'
import { newestWork } from './newest-work.ts'

interface Known {
  readonly day: string
  readonly upTo: number
  readonly record: Promise<RemakeRecord>
}

const known = new WeakMap<OpenShop, Known>()

/** What the log has of work done again, as far back as learning reads: read once a day, and whenever something fails or is undone. */
export async function remakesOf(shop: OpenShop): Promise<RemakeRecord> {
  const { today: day } = shop.moment()
  const before = known.get(shop)
  if (before?.day === day && !(await failureSince(shop.db, before.upTo))) return before.record
  const now: Known = { day, upTo: await lastEntryId(shop.db), record: recordOf(shop) }
  known.set(shop, now)
  return now.record
}

async function recordOf(shop: OpenShop): Promise<RemakeRecord> {
  const all = (await newestWork(shop)).all()
  const works = new Map(all.flatMap(({ step, work }) => (work === NO_WORK ? [] : [[step.id, work] as const])))
  const failures = (await failuresLogged(shop.db)).filter(({ stepId }) => works.has(stepId))
  const lostMin = sum(failures.map(({ lostMin: lost, stepId }) => lost ?? minutesOf(works.get(stepId))))
  const worked = sum([...works.values()].map(minutesOf))
  return {
    lostMin,
    goodMin: Math.max(0, worked - lostMin),
    pieces: await piecesBegun(
      shop.db,
      all.map(({ step }) => step.id),
      othersFirst,
    ),
    again: sum(failures.map(({ count }) => count)),
  }
}

const minutesOf = (work: Parameters<typeof minutesOver>[0] | undefined): number =>
  work === undefined ? 0 : Math.round(minutesOver(work))
