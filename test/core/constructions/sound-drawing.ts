import { expect } from 'vitest'
import type { Units } from '../../../core/constructions/construction.ts'
import type { Drawing, DrawingView, Point } from '../../../core/constructions/drawing.ts'
import { writeLength } from '../../../core/lengths/write-length.ts'

/** What must be true of every drawing: it lies within its views, in whole numbers, and its dimensions say what they measure. */
export function expectSoundDrawing({ views }: Drawing, units: Units): void {
  expect(views.length).toBeGreaterThan(0)
  expect(new Set(views.map((view) => view.name)).size).toBe(views.length)
  expect(views.flatMap((view) => faultsOf(view, units))).toEqual([])
}

function faultsOf(view: DrawingView, units: Units): string[] {
  const within = ([x, y]: Point): boolean =>
    Number.isInteger(x) && Number.isInteger(y) && x >= 0 && y >= 0 && x <= view.widthNm && y <= view.heightNm
  const points = view.shapes.flatMap((shape) => (shape.kind === 'line' ? [shape.from, shape.to] : shape.points))
  const outside = points
    .filter((point) => !within(point))
    .map((point) => `${view.name}: ${point.join(' ')} lies outside`)
  const empty = view.shapes.flatMap((shape) =>
    shape.kind !== 'line' && areaOf(shape.points) === 0 ? [`${view.name}: ${shape.name} has no area`] : [],
  )
  const wrong = view.dimensions
    .filter(({ side, tier, fromNm, toNm, text }) => {
      const extent = side === 'above' || side === 'below' ? view.widthNm : view.heightNm
      return !(
        0 <= fromNm &&
        fromNm < toNm &&
        toNm <= extent &&
        tier >= 1 &&
        text.startsWith(writeLength(toNm - fromNm, units))
      )
    })
    .map(({ text }) => `${view.name}: the dimension ${text} is wrong`)
  return [...outside, ...empty, ...wrong]
}

/** Area of a polygon by the shoelace formula, square nanometres. */
export const areaOf = (points: readonly Point[]): number =>
  Math.abs(
    points.reduce((sum, [x, y], index) => {
      const [nextX, nextY] = points[(index + 1) % points.length] ?? [x, y]
      return sum + x * nextY - nextX * y
    }, 0) / 2,
  )
