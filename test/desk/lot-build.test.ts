import { expect, test } from 'vitest'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import type { Piece } from '../../core/book/book.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { lotBuild } from '../../desk/lot-build.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const BUILT_AT = 29_500_000
const construction = constructionOf('edge-grain-board')!

function board(woodA: string): Pick<Piece, 'construction' | 'spec'> {
  const read = construction.read({ ...construction.starting('inch'), woodA }, 'inch', shopFactsOf(almanac, BUILT_AT))
  if (!read.ok) throw new Error(read.problems[0]?.message)
  return { construction: 'edge-grain-board', spec: read.value }
}

test('a lot is built once, and anew where anything that it follows from is another', () => {
  const first = lotBuild(board('maple'), 2, almanac, BUILT_AT, null)
  expect(first).toMatchObject({ ok: true })
  // A book that is read again brings an equal piece, not the same object.
  expect(lotBuild(structuredClone(board('maple')), 2, almanac, BUILT_AT, null)).toBe(first)
  const others = [
    lotBuild(board('cherry'), 2, almanac, BUILT_AT, null),
    lotBuild(board('maple'), 1, almanac, BUILT_AT, null),
    lotBuild(board('maple'), 2, almanac, BUILT_AT + 1, null),
    lotBuild(board('maple'), 2, almanac, BUILT_AT, {
      driest: { celsius: 20, rh: 0.2 },
      dampest: { celsius: 24, rh: 0.7 },
    }),
    lotBuild(board('maple'), 2, { ...almanac, clampForceN: almanac.clampForceN / 2 }, BUILT_AT, null),
  ]
  expect(new Set([first, ...others]).size).toBe(6)
})

test('of very many lots those are kept that were asked for last', () => {
  const piece = board('maple')
  const first = lotBuild(piece, 1, almanac, BUILT_AT, null)
  const second = lotBuild(piece, 2, almanac, BUILT_AT, null)
  for (let minute = 1; minute < 1000; minute++) {
    lotBuild(piece, 1, almanac, BUILT_AT + minute, null)
    expect(lotBuild(piece, 1, almanac, BUILT_AT, null)).toBe(first)
  }
  const again = lotBuild(piece, 2, almanac, BUILT_AT, null)
  expect(again).not.toBe(second)
  expect(again).toEqual(second)
})
