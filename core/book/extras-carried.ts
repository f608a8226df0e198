import type { LotBuild } from '../constructions/lots.ts'
import type { NetworkLag, NetworkStep } from '../constructions/step-network.ts'
import type { BookStep } from './book.ts'
import type { PieceNetwork } from './remake.ts'

/** What the keys of extra steps begin with. */
export const EXTRA = 'extra-'

/**
 * A lot of a changed piece with the extra steps that the maker had put into the old one: behind the step that they followed, or the nearest
 * before it that there still is. Without any such step an extra one is dropped.
 */
export function withExtras(lot: LotBuild, old: PieceNetwork): LotBuild {
  const before = old.steps.filter(({ lost }) => lost !== true).sort((a, b) => a.position - b.position)
  let made = lot
  for (const [at, extra] of before.entries()) {
    if (!extra.key.startsWith(EXTRA)) continue
    const anchor = before
      .slice(0, at)
      .toReversed()
      .map((step) => ({ step, key: keyIn(made, step) }))
      .find(({ key }) => key !== undefined)
    if (anchor?.key !== undefined) made = putBehind(made, anchor.key, extra, ownLag(old, anchor.step, extra))
  }
  return made
}

const keyIn = ({ steps }: LotBuild, step: BookStep): string | undefined =>
  steps.find(({ operation, name }) => operation === step.operation && name === step.name)?.key

const ownLag = ({ lags }: PieceNetwork, from: BookStep, to: BookStep): NetworkLag | undefined =>
  lags.find(({ fromStep, toStep }) => fromStep === from.id && toStep === to.id)

function putBehind(
  { count, steps, lags }: LotBuild,
  after: string,
  extra: NetworkStep,
  before: NetworkLag | undefined,
): LotBuild {
  const following = lags.filter(({ from }) => from === after)
  const longest = following.toSorted((a, b) => b.minMin - a.minMin)[0]
  const plain = (from: string, to: string): NetworkLag => ({
    ...{ from, to, wait: 'none', name: '', minMin: 0, optimisticMin: 0, pessimisticMin: 0, maxMin: null },
    ...{ remedy: null, product: null, source: '' },
  })
  const waits = before ?? longest ?? plain(after, extra.key)
  const at = steps.findIndex(({ key }) => key === after) + 1
  return {
    count,
    steps: [...steps.slice(0, at), extra, ...steps.slice(at)],
    lags: [
      ...lags,
      { ...waits, from: after, to: extra.key, maxMin: null, remedy: null },
      ...following.map(({ to }) => plain(extra.key, to)),
    ],
  }
}
