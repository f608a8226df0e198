import { xOf, type TimeScale } from './time-scale.ts'
import type { PieceState } from '../../core/book/piece-state.ts'
import type { WeeksBar } from '../../desk/screens/weeks.ts'

/** How a bar is filled: work solid, each kind of wait with a hatch of its own. */
export type Fill = 'hands-on' | 'in-clamps' | 'curing' | 'drying' | 'resting' | 'turn'

/** The fill in words, as the key and the readings beside a bar say it. */
export const fillWords: Readonly<Record<Fill, string>> = {
  'hands-on': 'hands-on work',
  'in-clamps': 'in clamps',
  curing: 'curing',
  drying: 'drying',
  resting: 'resting',
  turn: 'waiting its turn',
}

/** All bars of one lane with the same fill, as one drawn path. */
export interface FilledPath {
  readonly fill: Fill
  readonly done: boolean
  readonly path: string
}

/** Heights of the drawing, in pixels. Work stands taller than waits, so that a quarter of an hour is still seen. */
export interface LaneHeights {
  readonly lane: number
  readonly work: number
  readonly wait: number
}

/**
 * Draws a lane with as few shapes as there are fills: a shop of 60 lanes over 12 weeks is some hundred paths instead of
 * thousands of boxes. Bars outside the scale are left out, work is never narrower than `LEAST_WORK` pixels.
 */
export function filledPaths(bars: readonly WeeksBar[], scale: TimeScale, heights: LaneHeights): readonly FilledPath[] {
  const paths = new Map<string, { fill: Fill; done: boolean; path: string }>()
  for (const bar of bars) {
    if (bar.toAt < scale.fromAt || bar.fromAt >= scale.toAt) continue
    const fill = fillOf(bar)
    const key = `${fill} ${bar.done}`
    const known = paths.get(key) ?? { fill, done: bar.done, path: '' }
    known.path += box(bar, scale, heights)
    paths.set(key, known)
  }
  // Waits first, so that work is drawn over their ends.
  return [...paths.values()].sort((a, b) => Number(a.fill === 'hands-on') - Number(b.fill === 'hands-on'))
}

export function fillOf(bar: Pick<WeeksBar, 'kind' | 'state'>): Fill {
  if (bar.kind === 'hands-on') return 'hands-on'
  return waitFills[bar.state]
}

/** The bar at a place on the ruler: the one under it, else the nearest within reach; work before waits. */
export function barAt(bars: readonly WeeksBar[], scale: TimeScale, x: number): WeeksBar | null {
  let best: WeeksBar | null = null
  let bestDistance = REACH
  for (const bar of bars) {
    const [left, right] = edges(bar, scale)
    const distance = x < left ? left - x : x > right ? x - right : 0
    const prefer = distance === bestDistance && bar.kind === 'hands-on' && best?.kind !== 'hands-on'
    if (distance < bestDistance || prefer) {
      best = bar
      bestDistance = distance
    }
  }
  return best
}

const waitFills: Readonly<Record<PieceState, Fill>> = {
  'in-clamps': 'in-clamps',
  curing: 'curing',
  drying: 'drying',
  resting: 'resting',
  'waiting-its-turn': 'turn',
  'on-the-bench': 'turn',
  finished: 'turn',
}

const LEAST_WORK = 3
/** Pixels beside a bar that still count as pointing at it. */
const REACH = 6

function edges(bar: WeeksBar, scale: TimeScale): readonly [number, number] {
  const left = Math.max(0, xOf(scale, bar.fromAt))
  const right = Math.min(scale.width, xOf(scale, bar.toAt))
  return bar.kind === 'hands-on' ? [left, Math.max(right, left + LEAST_WORK)] : [left, right]
}

function box(bar: WeeksBar, scale: TimeScale, heights: LaneHeights): string {
  const [left, right] = edges(bar, scale)
  const height = bar.kind === 'hands-on' ? heights.work : heights.wait
  const top = (heights.lane - height) / 2
  return `M${round(left)} ${top}H${round(right)}V${top + height}H${round(left)}Z`
}

const round = (x: number): number => Math.round(x * 10) / 10
