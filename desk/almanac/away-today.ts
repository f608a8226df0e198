import { withListed, withoutListed } from '../../core/almanac/lists.ts'
import { isAwayOn } from '../../core/almanac/people-in-plans.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import type { Moved } from '../moved.ts'
import type { OpenShop } from '../open-shop.ts'

/**
 * Somebody does not come today, or comes after all: a special day of theirs, so that plan and dates follow and one undo takes it back.
 * Problems: `unknown-maker`, `away`, `not-away`
 */
export async function sayAway(shop: OpenShop, makerId: string, away: boolean): Promise<Result<Moved>> {
  const { almanac } = shop
  const { today } = shop.moment()
  const maker = almanac.makers.find(({ id }) => id === makerId)
  if (maker === undefined)
    return failed(problem('unknown-maker', 'The Almanac has no such person any more.', 'makerId'))
  const known = almanac.specialDays.filter((day) => day.maker === makerId && day.day === today && day.kind === 'closed')
  if (away === isAwayOn(almanac, makerId, today))
    return failed(
      problem(away ? 'away' : 'not-away', `${maker.name} is ${away ? 'away' : 'expected'} today already.`, 'makerId'),
    )
  let after = almanac
  for (const { id } of known) {
    const without = withoutListed(after, 'specialDays', id)
    if (!without.ok) return without
    after = without.value
  }
  if (away)
    after = withListed(after, 'specialDays', {
      ...{ id: `away-${makerId}-${today}`, day: today, kind: 'closed', hours: [], maker: makerId, note: 'Not coming' },
    })
  return shop.change(async (db) => {
    await saveAlmanac(db, after, shop.starting, { atMs: shop.nowMs, makerId: null }, 'almanac-changed')
    return ok(away ? `${maker.name} isn’t coming today.` : `${maker.name} is coming today.`)
  })
}
