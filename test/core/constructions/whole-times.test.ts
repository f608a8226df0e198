import { describe, expect, it } from 'vitest'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf, constructions } from '../../../core/constructions/constructions.ts'
import { buildLots } from '../../../core/constructions/lots.ts'
import { usual } from '../../../core/waits/figure.ts'
import { STEP_FIGURES } from '../../../core/waits/step-figures.ts'
import { aShop } from './a-shop.ts'

const shop = aShop()

/** Hands-on minutes of an order for so many, and the set-ups of machines where none is shared with other work. */
function minutesOf(id: string, changes: SpecInput = {}, count = 1) {
  const construction = constructionOf(id)
  const spec = construction?.read({ ...construction.starting('inch'), ...changes }, 'inch', shop)
  if (!construction || !spec?.ok) throw new Error(`${id} cannot be read`)
  const build = buildLots(construction, spec.value, count, shop)
  if (!build.ok) throw new Error(`${id}: ${build.problems[0]?.message}`)
  const steps = build.value.lots.flatMap((lot) => lot.steps)
  const families = new Map(steps.flatMap(({ setUp }) => (setUp === null ? [] : [[setUp.family, setUp.minutes]])))
  const hands = steps.reduce((sum, { minutes }) => sum + minutes, 0)
  const setUps = [...families.values()].reduce((sum, minutes) => sum + minutes, 0)
  return { hours: (hands + setUps) / 60, steps }
}

const HOURS_OF_SMALL_FURNITURE = usual(STEP_FIGURES.small_furniture.whole)
const HOURS_OF_A_PICTURE_FRAME = usual(STEP_FIGURES.picture_frame.whole)
const TIMES_EDGE_GRAIN = usual(STEP_FIGURES.end_grain_vs_edge_grain.factor)

/**
 * Hours of one piece from rough boards to the package, one of each.
 * - small table: a furniture maker's own hour log has 20 h for a piece of small furniture, first of its kind, joints fitted by hand;
 *   with a mortiser half of that is the least.
 * - framed field: the same log has 5 h for a picture frame; field and frame together take that at least, and no more than the frame and
 *   an end-grain board of its size (common practice, no source: 3 to 8 h).
 * - box, end-grain and edge-grain boards: common practice, no source.
 */
const HOURS: Readonly<Record<string, readonly [least: number, most: number]>> = {
  'small-table': [HOURS_OF_SMALL_FURNITURE / 2, HOURS_OF_SMALL_FURNITURE],
  'framed-field': [HOURS_OF_A_PICTURE_FRAME, HOURS_OF_A_PICTURE_FRAME + 8],
  box: [4, 9],
  'end-grain-board': [4, 8],
  'edge-grain-board': [2, 5],
}

describe('the hands-on hours of a whole piece', () => {
  it.each(Object.entries(HOURS))('%s', (id, [least, most]) => {
    const { hours } = minutesOf(id)
    expect(hours).toBeGreaterThanOrEqual(least)
    expect(hours).toBeLessThanOrEqual(most)
  })

  it('are held to a range for every construction that has parts', () => {
    const built = constructions.map(({ id }) => id).filter((id) => id !== 'free-list')
    expect(Object.keys(HOURS).toSorted()).toEqual(built.toSorted())
  })

  it('of end grain come to about twice those of edge grain on a board of one size', () => {
    // Tool-shop blog (2013): end grain about twice the labor; "about" is taken as half as much either way.
    const size = { length: '16', width: '12', thickness: '1 1/2' }
    const ratio = minutesOf('end-grain-board', size).hours / minutesOf('edge-grain-board', size).hours
    expect(ratio).toBeGreaterThan(TIMES_EDGE_GRAIN / 1.5)
    expect(ratio).toBeLessThan(TIMES_EDGE_GRAIN * 1.5)
  })

  it('are spread over the work: no joint takes half of a table', () => {
    const { steps, hours } = minutesOf('small-table')
    const joints = steps.filter(({ operation }) => operation === 'mortise-and-tenon')
    expect(joints.reduce((sum, { minutes }) => sum + minutes, 0) / 60).toBeLessThan(hours / 2)
  })

  it('have no milling shorter than anybody would walk to the machines for, and less of it for each of many', () => {
    for (const id of Object.keys(HOURS))
      for (const { operation, name, minutes } of minutesOf(id).steps)
        if (operation === 'mill-stock') expect(minutes, `${id}: ${name}`).toBeGreaterThanOrEqual(12)
    const milling = (count: number): number =>
      minutesOf('box', {}, count)
        .steps.filter(({ operation }) => operation === 'mill-stock')
        .reduce((sum, { minutes }) => sum + minutes, 0) / count
    expect(milling(6)).toBeLessThan(milling(1))
  })
})
