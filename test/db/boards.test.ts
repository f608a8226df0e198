import { describe, expect, test } from 'vitest'
import { inches } from '../../core/lengths/length.ts'
import { backupFolder } from '../../db/backup.ts'
import { addBoards, allBoards, boardsOnHand, changeBoard, cutBoard, partsCut, useUpBoard } from '../../db/boards.ts'
import { latestEntries } from '../../db/log.ts'
import { photoById } from '../../db/photos.ts'
import type { Db } from '../../db/schema.ts'
import { lastRedoable, lastUndoable, takeBack } from '../../db/undo.ts'
import { aBoard } from './support/boards.ts'
import { stateOf } from './support/everything.ts'
import { openShop, problemOf, restoreBackup, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const none = { kind: 'none' } as const
const asItIs = { kind: 'as-it-is' } as const
const photo = (id: string, ...bytes: number[]) =>
  ({ kind: 'new', id, mediaType: 'image/jpeg', bytes: new Uint8Array(bytes) }) as const

async function undo(db: Db) {
  const entry = await lastUndoable(db)
  if (entry === null) throw new Error('nothing to take back')
  return takeBack(db, entry.id, stamp)
}

const parts = [
  {
    ...{ pieceId: 'piece', lot: 1, name: 'Strip', quantity: 4 },
    ...{ lengthNm: inches(22), widthNm: inches(1.5), thicknessNm: inches(1.5) },
  },
]
const offcuts = [
  { id: 'left-1', lengthNm: inches(24), widthNm: inches(7), priceMinor: 2800 },
  { id: 'left-2', lengthNm: inches(48), widthNm: inches(3.5), priceMinor: null },
]

describe('boards on hand', () => {
  test('equal boards have numbers of their own and are all there after a restart', async () => {
    const { db, path, close } = await openShop()
    const flaws = [
      { fromNm: inches(12), toNm: inches(15) },
      { fromNm: inches(40), toNm: inches(40) },
    ]
    expect(await addBoards(db, aBoard({ flaws }), ['a', 'b', 'c', 'd'], none, stamp)).toEqual([1, 2, 3, 4])
    await close()
    const again = await openShop(path)
    const boards = await boardsOnHand(again.db)
    expect(boards.map((board) => board.number)).toEqual([1, 2, 3, 4])
    expect(boards[3]).toEqual({
      ...aBoard({ flaws }),
      ...{ id: 'd', number: 4, standing: 'on-hand', addedAtMin: START_MS / 60_000, cutFrom: null, photoId: null },
    })
  })

  test('a number is not given twice, also not after its board was taken back', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard(), ['a', 'b'], none, stamp)
    valueOf(await undo(db))
    expect(await boardsOnHand(db)).toEqual([])
    expect(await addBoards(db, aBoard(), ['c'], none, stamp)).toEqual([3])
  })

  test('what is changed of a board is logged with what it was, and comes back', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard({ flaws: [{ fromNm: 0, toNm: inches(2) }] }), ['a'], none, stamp)
    const before = await stateOf(db)
    valueOf(await changeBoard(db, 'a', aBoard({ lengthNm: inches(90), place: 'Door' }), asItIs, stamp))
    expect((await boardsOnHand(db))[0]).toMatchObject({ lengthNm: inches(90), place: 'Door', flaws: [] })
    expect((await latestEntries(db, 1))[0]?.action).toBe('board-changed')
    valueOf(await undo(db))
    expect(await stateOf(db)).toEqual(before)
  })

  test('a board that is used up is on hand no more, and is there again when that is taken back', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard(), ['a'], none, stamp)
    valueOf(await useUpBoard(db, 'a', stamp))
    expect(await boardsOnHand(db)).toEqual([])
    expect(problemOf(await useUpBoard(db, 'a', stamp)).code).toBe('board-missing')
    valueOf(await undo(db))
    expect(await boardsOnHand(db)).toHaveLength(1)
  })
})

describe('cutting a board', () => {
  test('takes its parts off the list and puts what is left on hand, at the price that is said of it', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard(), ['a'], none, stamp)
    expect(valueOf(await cutBoard(db, 'a', { parts, offcuts }, stamp))).toEqual([2, 3])
    const left = await boardsOnHand(db)
    expect(left.map(({ number, lengthNm, widthNm, priceMinor }) => [number, lengthNm, widthNm, priceMinor])).toEqual([
      [2, inches(24), inches(7), 2_800],
      [3, inches(48), inches(3.5), null],
    ])
    expect(left[0]?.cutFrom).toEqual({ id: 'a', number: 1 })
    expect(await partsCut(db)).toEqual(parts.map((part) => ({ ...part, wood: 'walnut' })))
    expect((await allBoards(db))[0]?.standing).toBe('cut')
  })

  test('is one entry that can be taken back and put back whole', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard(), ['a'], none, stamp)
    const before = await stateOf(db)
    valueOf(await cutBoard(db, 'a', { parts, offcuts }, stamp))
    const cut = await stateOf(db)
    valueOf(await undo(db))
    expect(await stateOf(db)).toEqual(before)
    const redo = await lastRedoable(db)
    valueOf(await takeBack(db, redo?.id ?? 0, stamp))
    expect(await stateOf(db)).toEqual(cut)
  })

  test('is not taken back while an offcut of it has been cut in its turn', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard(), ['a'], none, stamp)
    valueOf(await cutBoard(db, 'a', { parts, offcuts }, stamp))
    const [entry] = await latestEntries(db, 1)
    valueOf(await cutBoard(db, 'left-1', { parts, offcuts: [] }, stamp))
    expect(problemOf(await takeBack(db, entry?.id ?? 0, stamp)).code).toBe('changed-since')
  })
})

describe('a photo', () => {
  test('is kept in the file, and found again when the change that took it away is taken back', async () => {
    const { db } = await openShop()
    await addBoards(db, aBoard(), ['a', 'b'], photo('p1', 255, 216, 255, 1), stamp)
    expect((await boardsOnHand(db)).map((board) => board.photoId)).toEqual(['p1', 'p1'])
    valueOf(await changeBoard(db, 'a', aBoard(), photo('p2', 255, 216, 255, 2), stamp))
    valueOf(await changeBoard(db, 'a', aBoard(), none, stamp))
    expect((await boardsOnHand(db))[0]?.photoId).toBeNull()
    valueOf(await undo(db))
    expect((await boardsOnHand(db))[0]?.photoId).toBe('p2')
    expect(Array.from((await photoById(db, 'p2'))?.bytes ?? [])).toEqual([255, 216, 255, 2])
    expect(await photoById(db, 'p3')).toBeNull()
  })

  test('comes through a backup and its opening, byte by byte', async () => {
    const { db, path, close, backUp } = await openShop()
    const bytes = Array.from({ length: 60_000 }, (_, at) => (at * 7919) % 256)
    await addBoards(db, aBoard(), ['a'], photo('p1', ...bytes), stamp)
    const backup = valueOf(await backUp('by-hand'))
    expect(backup.path.startsWith(backupFolder(path))).toBe(true)
    valueOf(await changeBoard(db, 'a', aBoard(), none, stamp))
    await close()
    valueOf(restoreBackup(path, backup.name, START_MS))
    const again = await openShop(path)
    const [board] = await boardsOnHand(again.db)
    const kept = await photoById(again.db, board?.photoId ?? '')
    expect(Array.from(kept?.bytes ?? [])).toEqual(bytes)
  })
})
