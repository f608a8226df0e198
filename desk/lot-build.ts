import type { Almanac } from '../core/almanac/almanac.ts'
import { shopFactsOf } from '../core/almanac/shop-facts.ts'
import type { Commission, Piece } from '../core/book/book.ts'
import type { Build } from '../core/constructions/construction.ts'
import { constructionOfPiece } from '../core/constructions/constructions.ts'
import type { Result } from '../core/problems.ts'

/** What one lot of a piece comes to: its steps, parts and what it takes; null: nobody knows its construction any more. */
type LotBuild = Result<Build> | null

/** More than any shop has in work at a time; each takes some ten kilobytes. */
const MOST_KEPT = 1000

const made = new WeakMap<Almanac, Map<string, LotBuild>>()

/**
 * Builds so many of a piece at once. It follows from what is given alone and is worked out once, as a book that was read again asks
 * the same for most of its pieces.
 * @param builtAt instant at which their parts are joined: what the wood holds then follows the season
 */
export function lotBuild(
  { construction, spec }: Pick<Piece, 'construction' | 'spec'>,
  count: number,
  almanac: Almanac,
  builtAt: number,
  home: Commission['home'],
): LotBuild {
  const ofAlmanac = made.get(almanac) ?? new Map<string, LotBuild>()
  made.set(almanac, ofAlmanac)
  const key = JSON.stringify([construction, spec, count, builtAt, home])
  const known = ofAlmanac.get(key)
  const build = known === undefined ? buildAnew() : known
  // What was asked for last stands last: the first one has been of no use for longest.
  ofAlmanac.delete(key)
  const oldest = ofAlmanac.size < MOST_KEPT ? undefined : ofAlmanac.keys().next().value
  if (oldest !== undefined) ofAlmanac.delete(oldest)
  ofAlmanac.set(key, build)
  return build

  function buildAnew(): LotBuild {
    const facts = shopFactsOf(almanac, builtAt, home)
    return constructionOfPiece({ construction, spec })?.build(spec, count, facts) ?? null
  }
}
