import { forgetShown, markShown, noticesShown } from '../../db/notices.ts'
import type { Db } from '../../db/schema.ts'
import type { Moment } from '../moment.ts'
import type { Notice } from '../desk-event.ts'
import { noticesToTell } from './due-notices.ts'

/** Notices that are due are told once, also over a restart; what the maker puts to sleep is told again when it wakes. */
export class ToldNotices {
  /** Notices that were put to sleep, and when each wakes, in milliseconds. */
  private readonly asleep = new Map<string, number>()

  /** What is due now and was not told yet; it counts as told from here on. */
  async fresh(db: Db, moment: Moment, nowMs: number): Promise<readonly Notice[]> {
    const due = noticesToTell(moment).filter(({ id }) => (this.asleep.get(id) ?? 0) <= nowMs)
    const shown = await noticesShown(
      db,
      due.map(({ id }) => id),
      nowMs,
    )
    const fresh = due.filter(({ id }) => !shown.has(id))
    if (fresh.length === 0) return []
    await markShown(
      db,
      fresh.map(({ id }) => id),
      nowMs,
    )
    return fresh
  }

  async sleep(db: Db, notice: string, wakesAtMs: number): Promise<void> {
    await forgetShown(db, notice)
    this.asleep.set(notice, wakesAtMs)
  }
}
