import type { BoardFacts } from '../core/timber/read-board.ts'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { change } from './change.ts'
import type { Stamp } from './log.ts'
import { keepPhoto, type NewPhoto } from './photos.ts'
import { changesBetween, type RowSet } from './row-changes.ts'
import { takeNumbers } from './running-number.ts'
import type { BoardRow, BoardStanding, Db, PartCutRow } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** A board that the shop has or had. */
export interface Board extends BoardFacts {
  readonly id: string
  /** What is chalked on its end. */
  readonly number: number
  readonly standing: BoardStanding
  readonly addedAtMin: number
  /** The board that it is an offcut of. */
  readonly cutFrom: { readonly id: string; readonly number: number } | null
  readonly photoId: string | null
}

/** What becomes of a board's photo. */
export type PhotoChange = { readonly kind: 'as-it-is' } | { readonly kind: 'none' } | NewPhoto

/** Parts that came out of a board; of what piece and lot. */
export interface PartCut {
  readonly pieceId: string
  readonly lot: number
  readonly name: string
  readonly wood: string
  readonly quantity: number
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
}

/** Every board on hand, by number. */
export const boardsOnHand = (db: Db): Promise<Board[]> => boardsWhere(db, { standing: 'on-hand' })

/** Every board that the shop ever had, by number: for what was paid, and for what an offcut comes from. */
export const allBoards = (db: Db): Promise<Board[]> => boardsWhere(db, {})

/** Whether the shop has ever listed a board: one that never has keeps its lumber in its head. */
export const hasListedBoards = async (db: Db): Promise<boolean> =>
  (await db.selectFrom('board').select('id').limit(1).executeTakeFirst()) !== undefined

/** All parts that were cut out of boards by the plan and are not lost. */
export async function partsCut(db: Db): Promise<PartCut[]> {
  const rows = await db
    .selectFrom('part_cut')
    .innerJoin('board', 'board.id', 'part_cut.board_id')
    .selectAll('part_cut')
    .select('board.wood')
    .where('part_cut.lost', '=', 0)
    .orderBy('board.number')
    .orderBy('part_cut.position')
    .execute()
  return rows.map((row) => ({
    pieceId: row.piece_id,
    lot: row.lot,
    name: row.name,
    wood: row.wood,
    quantity: row.quantity,
    lengthNm: row.length_nm,
    widthNm: row.width_nm,
    thicknessNm: row.thickness_nm,
  }))
}

/**
 * Puts equal boards on hand, each under a number of its own, all with the one photo.
 * @param ids one for each board
 * @returns their numbers
 */
export const addBoards = (
  db: Db,
  facts: BoardFacts,
  ids: readonly string[],
  photo: PhotoChange,
  stamp: Stamp,
): Promise<number[]> =>
  inTransaction(db, async (trx) => {
    const first = await takeNumbers(trx, 'board', ids.length)
    const photoId = await photoOf(trx, photo, null, stamp)
    const boards = ids.map((id, index) => newBoard(id, first + index, facts, stamp, { photoId }))
    await change(trx, changesBetween({}, rowsOf(boards)), { ...stamp, action: 'boards-added' })
    return boards.map((board) => board.number)
  })

/** Changes what is known of a board. Problem: `board-missing`. */
export const changeBoard = (
  db: Db,
  id: string,
  facts: BoardFacts,
  photo: PhotoChange,
  stamp: Stamp,
): Promise<Result<Board>> =>
  changeOne(db, id, 'board-changed', stamp, async (trx, board) => ({
    ...board,
    ...facts,
    photoId: await photoOf(trx, photo, board.photoId, stamp),
  }))

/** A board is gone, and nothing of it is left. Problem: `board-missing`. */
export const useUpBoard = (db: Db, id: string, stamp: Stamp): Promise<Result<Board>> =>
  changeOne(db, id, 'board-used-up', stamp, (_, board) => Promise.resolve({ ...board, standing: 'used-up' }))

/** What came off the saw when a board was cut. */
export interface Cutting {
  readonly parts: readonly Omit<PartCut, 'wood'>[]
  /** Each with the id that it gets as a board of its own. */
  readonly offcuts: readonly {
    readonly id: string
    readonly lengthNm: number
    readonly widthNm: number
    readonly priceMinor: number | null
  }[]
}

/** A board was cut: its parts are off the list, its offcuts are on hand with numbers of their own. Problem: `board-missing`. */
export const cutBoard = (db: Db, id: string, cutting: Cutting, stamp: Stamp): Promise<Result<number[]>> =>
  cutBoards(db, [{ id, ...cutting }], stamp)

/** The same of several boards at once, as one entry: all of them or none. */
export const cutBoards = (
  db: Db,
  cuts: readonly (Cutting & { readonly id: string })[],
  stamp: Stamp,
): Promise<Result<number[]>> =>
  inTransaction(db, async (trx) => {
    const boards: Board[] = []
    const rests: Board[] = []
    for (const { id, offcuts } of cuts) {
      const board = await boardOnHand(trx, id)
      if (board === null) return failed(MISSING)
      const first = offcuts.length === 0 ? 0 : await takeNumbers(trx, 'board', offcuts.length)
      boards.push(board)
      rests.push(...offcuts.map((offcut, index) => restOf(board, offcut, first + index, stamp)))
    }
    const cut = boards.map((board): Board => ({ ...board, standing: 'cut' }))
    const parts = cuts.flatMap((one) => one.parts.map((part, position) => partRow(one.id, part, position)))
    const changes = changesBetween(rowsOf(boards), { ...rowsOf([...cut, ...rests]), part_cut: parts })
    await change(trx, changes, { ...stamp, action: 'board-cut' })
    return ok(rests.map((rest) => rest.number))
  })

const restOf = (board: Board, offcut: Cutting['offcuts'][number], number: number, stamp: Stamp): Board => {
  const { lengthNm, widthNm, priceMinor } = offcut
  const facts: BoardFacts = { ...board, lengthNm, widthNm, flaws: [], priceMinor, boughtFor: null }
  return newBoard(offcut.id, number, facts, stamp, { cutFrom: { id: board.id, number: board.number } })
}

const partRow = (boardId: string, part: Cutting['parts'][number], position: number): PartCutRow => ({
  board_id: boardId,
  position,
  piece_id: part.pieceId,
  lot: part.lot,
  name: part.name,
  quantity: part.quantity,
  length_nm: part.lengthNm,
  width_nm: part.widthNm,
  thickness_nm: part.thicknessNm,
  lost: 0,
})

const MISSING = problem('board-missing', 'This board is not on hand any more. Look at the boards again.')

const newBoard = (
  id: string,
  number: number,
  facts: BoardFacts,
  { atMs }: Stamp,
  { photoId = null, cutFrom = null }: { readonly photoId?: string | null; readonly cutFrom?: Board['cutFrom'] },
): Board => ({
  wood: facts.wood,
  thicknessNm: facts.thicknessNm,
  widthNm: facts.widthNm,
  lengthNm: facts.lengthNm,
  flaws: facts.flaws,
  quality: facts.quality,
  place: facts.place,
  priceMinor: facts.priceMinor,
  moisture: facts.moisture,
  hereSince: facts.hereSince,
  boughtFor: facts.boughtFor,
  id,
  number,
  standing: 'on-hand',
  addedAtMin: Math.floor(atMs / 60_000),
  cutFrom,
  photoId,
})

const photoOf = async (trx: Db, photo: PhotoChange, before: string | null, { atMs }: Stamp): Promise<string | null> => {
  switch (photo.kind) {
    case 'as-it-is':
      return before
    case 'none':
      return null
    case 'new':
      return keepPhoto(trx, photo, atMs)
  }
}

const changeOne = (
  db: Db,
  id: string,
  action: string,
  stamp: Stamp,
  changed: (trx: Db, board: Board) => Promise<Board>,
): Promise<Result<Board>> =>
  inTransaction(db, async (trx) => {
    const board = await boardOnHand(trx, id)
    if (board === null) return failed(MISSING)
    const after = await changed(trx, board)
    await change(trx, changesBetween(rowsOf([board]), rowsOf([after])), { ...stamp, action })
    return ok(after)
  })

async function boardOnHand(db: Db, id: string): Promise<Board | null> {
  const [board] = await boardsWhere(db, { id, standing: 'on-hand' })
  return board ?? null
}

async function boardsWhere(
  db: Db,
  { id, standing }: { readonly id?: string; readonly standing?: BoardStanding },
): Promise<Board[]> {
  let query = db
    .selectFrom('board')
    .leftJoin('board as origin', 'origin.id', 'board.cut_from')
    .selectAll('board')
    .select('origin.number as origin_number')
    .orderBy('board.number')
  if (id !== undefined) query = query.where('board.id', '=', id)
  if (standing !== undefined) query = query.where('board.standing', '=', standing)
  const rows = await query.execute()
  const flaws = Map.groupBy(
    await db.selectFrom('board_flaw').selectAll().orderBy('board_id').orderBy('position').execute(),
    (flaw) => flaw.board_id,
  )
  return rows.map((row) => ({
    id: row.id,
    number: row.number,
    wood: row.wood,
    thicknessNm: row.thickness_nm,
    widthNm: row.width_nm,
    lengthNm: row.length_nm,
    flaws: (flaws.get(row.id) ?? []).map(({ from_nm, to_nm }) => ({ fromNm: from_nm, toNm: to_nm })),
    quality: row.quality,
    place: row.place,
    priceMinor: row.price_minor,
    standing: row.standing,
    addedAtMin: row.added_at_min,
    cutFrom:
      row.cut_from === null || row.origin_number === null ? null : { id: row.cut_from, number: row.origin_number },
    photoId: row.photo_id,
    hereSince: row.here_since,
    boughtFor: row.bought_for,
    moisture:
      row.moisture_pct === null || row.measured_on === null ? null : { pct: row.moisture_pct, day: row.measured_on },
  }))
}

/** What was cut for a lot and is not lost, as rows. */
export const partsCutOfLot = (db: Db, pieceId: string, lot: number): Promise<PartCutRow[]> =>
  db
    .selectFrom('part_cut')
    .selectAll()
    .where('piece_id', '=', pieceId)
    .where('lot', '=', lot)
    .where('lost', '=', 0)
    .execute()

/** Boards as rows, with their defects. */
export const rowsOf = (boards: readonly Board[]): Pick<RowSet, 'board' | 'board_flaw'> => ({
  board: boards.map((board): BoardRow => ({
    id: board.id,
    number: board.number,
    wood: board.wood,
    thickness_nm: board.thicknessNm,
    width_nm: board.widthNm,
    length_nm: board.lengthNm,
    quality: board.quality,
    place: board.place,
    price_minor: board.priceMinor,
    standing: board.standing,
    added_at_min: board.addedAtMin,
    cut_from: board.cutFrom?.id ?? null,
    photo_id: board.photoId,
    moisture_pct: board.moisture?.pct ?? null,
    measured_on: board.moisture?.day ?? null,
    here_since: board.hereSince,
    bought_for: board.boughtFor,
  })),
  board_flaw: boards.flatMap(({ id, flaws }) =>
    flaws.map(({ fromNm, toNm }, position) => ({ board_id: id, position, from_nm: fromNm, to_nm: toNm })),
  ),
})
