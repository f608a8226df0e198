import { forgetNoticesBefore, forgetShown, markShown, noticesShown } from '../../db/notices.ts'
import type { Db } from '../../db/schema.ts'
import type { Moment } from '../moment.ts'
import type { Notice } from '../desk-event.ts'
import { dueNotices, noticesToTell } from './due-notices.ts'

/** Longer than anybody puts a notice to sleep. */
const REMEMBERED_MS = 90 * 24 * 3_600_000

/** Notices that are due are told once, also over a restart; what the maker puts to sleep is told again when it wakes. */
export class ToldNotices {
  /** Notices that were put to sleep, and when each wakes, in milliseconds. */
  private readonly asleep = new Map<string, number>()

  /** What is due now and was not told yet; it counts as told from here on. */
  async fresh(db: Db, moment: Moment, nowMs: number): Promise<readonly Notice[]> {
    const due = noticesToTell(moment).filter(({ id }) => (this.asleep.get(id) ?? 0) <= nowMs)
    const dueIds = due.map(({ id }) => id)
    const shown = await noticesShown(db, dueIds, nowMs)
    const fresh = due.filter(({ id }) => !shown.has(id))
    if (fresh.length === 0) return []
    await markShown(
      db,
      fresh.map(({ id }) => id),
      nowMs,
    )
    await forgetNoticesBefore(db, nowMs - REMEMBERED_MS, dueIds)
    return fresh
  }

  /** What was told and is still due, for who was not there to hear it; nothing that sleeps. */
  async stillDue(db: Db, moment: Moment, nowMs: number): Promise<readonly Notice[]> {
    const due = dueNotices(moment)
    const shown = await noticesShown(
      db,
      due.map(({ id }) => id),
      nowMs,
    )
    return due.filter(({ id }) => shown.has(id))
  }

  async sleep(db: Db, notice: string, wakesAtMs: number): Promise<void> {
    await forgetShown(db, notice)
    this.asleep.set(notice, wakesAtMs)
  }
}
