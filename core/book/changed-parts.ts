import type { Part } from '../constructions/construction.ts'

/** What a construction makes of a piece: its parts and the steps of one lot. */
export interface MadeOf {
  readonly parts: readonly Part[]
  readonly steps: readonly { readonly key: string }[]
}

/** Names of parts that are others than before, by the key of the step in which they are milled. */
export type ChangedParts = ReadonlyMap<string, readonly string[]>

/**
 * Parts of a piece whose wood, sizes or number are others than before, that came in, or that are no longer wanted. All that comes
 * after their milling is work on them; what does not is not touched.
 */
export function changedParts(was: MadeOf, is: MadeOf): ChangedParts {
  const [before, after] = [milledOf(was), milledOf(is)]
  const others = [...missingIn(before, after), ...missingIn(after, before)]
  return new Map(
    [...Map.groupBy(others, ({ key }) => key)].map(([key, of]) => [key, [...new Set(of.map(({ name }) => name))]]),
  )
}

interface Milled {
  readonly name: string
  readonly key: string
  readonly what: string
}

const milledOf = ({ parts, steps }: MadeOf): readonly Milled[] =>
  parts.map((part) => ({ name: part.name, key: part.milledIn ?? steps[0]?.key ?? '', what: whatItIs(part) }))

/** How it is explained is no part of it. */
const whatItIs = ({ name, wood, quantity, rough, finished, solidShare, milledIn }: Part): string =>
  JSON.stringify([name, wood, quantity, sizes(rough), sizes(finished), solidShare, milledIn])

const sizes = ({ lengthNm, widthNm, thicknessNm }: Part['rough']) => [lengthNm, widthNm, thicknessNm]

/** Those that the other list does not have as often. */
function missingIn(parts: readonly Milled[], others: readonly Milled[]): readonly Milled[] {
  const left = others.map(({ what }) => what)
  return parts.filter(({ what }) => {
    const at = left.indexOf(what)
    if (at >= 0) left.splice(at, 1)
    return at < 0
  })
}
