import type { Almanac } from '../core/almanac/almanac.ts'
import type { Book } from '../core/book/book.ts'
import { woodTaken } from '../core/timber/wood-taken.ts'
import { startingInUnits } from '../core/almanac/defaults.ts'
import { loadAlmanac } from '../db/almanac.ts'
import { boardsOnHand, hasListedBoards, partsCut } from '../db/boards.ts'
import { boardsTaken } from '../db/boards-taken.ts'
import { openBook } from '../db/commissions.ts'
import { LateWork } from '../db/late-work.ts'
import { supplies } from '../db/supplies.ts'
import type { Db } from '../db/schema.ts'
import { AnnouncedPlan } from './planner/announced-plan.ts'
import type { LumberStock } from './lumber/lumber-ahead.ts'

/** The almanac, with what it leaves as built in by the inch or the millimetre as this shop measures. */
export async function almanacInItsUnits(
  db: Db,
  starting: Almanac,
): Promise<{ readonly almanac: Almanac; readonly starting: Almanac }> {
  const almanac = await loadAlmanac(db, starting)
  const own = startingInUnits(starting, almanac.shop.units)
  return {
    almanac: own === starting ? almanac : await loadAlmanac(db, own),
    starting: { ...own, shop: { ...own.shop, units: almanac.shop.units } },
  }
}

export const stockOf = async (db: Db): Promise<LumberStock> => ({
  boards: await boardsOnHand(db),
  cut: await partsCut(db),
  everListed: await hasListedBoards(db),
  supplies: await supplies(db),
  taken: woodTaken(await boardsTaken(db)),
})

/** What is read when the file is opened. */
export interface ReadShop {
  readonly book: Book
  readonly almanac: Almanac
  readonly stock: LumberStock
  readonly starting: Almanac
  readonly announced: AnnouncedPlan
  readonly lateWork: LateWork
}

/** Everything that a shop is opened with. @throws what it meets in rows that this version cannot read */
export async function readShop(db: Db, starting: Almanac): Promise<ReadShop> {
  const lateWork = new LateWork()
  return {
    book: await openBook(db, lateWork),
    ...(await almanacInItsUnits(db, starting)),
    stock: await stockOf(db),
    announced: await AnnouncedPlan.of(db),
    lateWork,
  }
}
