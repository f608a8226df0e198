import { describe, expect, test } from 'vitest'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import type { Drawing } from '../../../core/constructions/drawing.ts'
import { inches } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'
import { areaOf } from './sound-drawing.ts'

const shop = aShop()

function drawn(id: string, change: SpecInput = {}): Drawing {
  const construction = constructionOf(id)
  const read = construction?.read({ ...construction.starting('inch'), ...change }, 'inch', shop)
  if (construction === undefined || read?.ok !== true) throw new Error(`${id} does not read`)
  const drawing = construction.draw(read.value, shop)
  if (drawing === null) throw new Error(`${id} has no drawing`)
  return drawing
}

const view = (drawing: Drawing, name: string) => {
  const found = drawing.views.find((one) => one.name === name)
  if (found === undefined) throw new Error(`no ${name}`)
  return found
}

const squareInches = (drawing: Drawing, name: string, what: string): number =>
  view(drawing, name).shapes.reduce(
    (sum, shape) => sum + (shape.kind === 'polygon' && shape.name === what ? areaOf(shape.points) : 0) / inches(1) ** 2,
    0,
  )

describe('drawings', () => {
  // A second way: areas. 64 cells of 1 3/4 in are 14 x 14 in; a frame without gaps is 19 x 19 in less that.
  test('cells and frame of a game board cover what they should', () => {
    const board = drawn('framed-field', { cell: '1 3/4', frameFace: '2 1/2', frameFixing: 'all-round' })
    expect(squareInches(board, 'Plan', 'Cell')).toBeCloseTo(14 * 14)
    expect(squareInches(board, 'Plan', 'Frame')).toBeCloseTo(19 * 19 - 14 * 14)
  })

  // A second way: areas. Around 16 x 16 in: 3 in all round is 22 x 22 in, 1 in is 18 x 18 in.
  test.each(['cells', 'staves'])('of a set of %s show every frame, each in its own wood and width', (fieldKind) => {
    const otherFrames = [
      { frameWood: 'cherry', frameFace: '3' },
      { frameWood: 'maple', frameFace: '1' },
    ]
    const field = { fieldKind, width: '16', length: '16', staveFixing: 'all-round', frameFixing: 'all-round' }
    const set = drawn('framed-field', { ...field, otherFrames })
    const named = ['', ', frame 2', ', frame 3'].flatMap((of) => [`Plan${of}`, `Section across${of}`])
    expect(set.views.map(({ name }) => name)).toEqual(named)
    const frameWoods = (name: string) =>
      new Set(
        view(set, name).shapes.flatMap((one) => (one.kind === 'polygon' && one.name === 'Frame' ? [one.wood] : [])),
      )
    expect(squareInches(set, 'Plan, frame 2', 'Frame')).toBeCloseTo(22 * 22 - 16 * 16)
    expect(squareInches(set, 'Plan, frame 3', 'Frame')).toBeCloseTo(18 * 18 - 16 * 16)
    expect([...frameWoods('Plan, frame 2'), ...frameWoods('Plan, frame 3')]).toEqual(['cherry', 'maple'])
    expect(drawn('framed-field', field).views.map(({ name }) => name)).toEqual(['Plan', 'Section across'])
  })

  test('a checker alternates both ways', () => {
    const cells = view(drawn('end-grain-board'), 'Plan').shapes.flatMap((shape) =>
      shape.kind === 'polygon' ? [shape.wood] : [],
    )
    expect(cells.slice(0, 9)).toEqual([
      'walnut',
      'maple',
      'walnut',
      'maple',
      'walnut',
      'maple',
      'walnut',
      'maple',
      'maple',
    ])
  })

  test('end grain is seen from above, and long grain stands up in the cut', () => {
    const grains = (name: string) =>
      new Set(view(drawn('end-grain-board'), name).shapes.map((shape) => (shape.kind === 'polygon' ? shape.grain : '')))
    expect(grains('Plan')).toEqual(new Set(['end']))
    expect(grains('Section across')).toEqual(new Set(['along-y']))
  })

  test('the grain of breadboard ends runs across that of the slab', () => {
    const grains = view(drawn('edge-grain-board', { breadboard: true }), 'Plan').shapes.flatMap((shape) =>
      shape.kind === 'polygon' ? [`${shape.name} ${shape.grain}`] : [],
    )
    expect(new Set(grains)).toEqual(new Set(['Stave along-y', 'Breadboard end along-x']))
  })

  test('a box is cut through its lid and bottom', () => {
    // Two sides of 1/2 in x 4 in and a lid of 8 in x 1/2 in.
    const box = drawn('box', { lid: 'loose' })
    expect(squareInches(box, 'Section across', 'Side')).toBeCloseTo(2 * 0.5 * 4)
    expect(squareInches(box, 'Section across', 'Lid')).toBeCloseTo(8 * 0.5)
    expect(drawn('box', { splines: '2' }).views.map((one) => one.name)).toEqual(['Plan', 'Section across', 'End'])
  })

  test('a table shows what is under its top as hidden lines', () => {
    const hidden = view(drawn('small-table'), 'Plan').shapes.flatMap((shape) =>
      shape.kind === 'outline' && shape.line === 'hidden' ? [shape.name] : [],
    )
    expect(hidden.toSorted()).toEqual([...Array<string>(4).fill('Apron'), ...Array<string>(4).fill('Leg')])
  })

  test('dimensions are in the maker’s units', () => {
    expect(view(drawn('small-table'), 'Side').dimensions.map((one) => one.text)).toEqual([
      '24"',
      '19" between legs',
      '22"',
      '7/8" top',
      '3 1/2" apron',
    ])
  })
})
