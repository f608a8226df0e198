import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import {
  entriesOfAct,
  entriesTakenBack,
  entryById,
  entryOf,
  latestEntries,
  type LogEntry,
  record,
  type Stamp,
  unindexedUndoes,
} from './log.ts'
import { givesBackTooMuch } from './money.ts'
import { applyChanges, firstMisfit, type RowChange, reversed } from './row-changes.ts'
import type { Db } from './schema.ts'
import { lastEntryAt } from './steps.ts'
import { inTransaction, isConstraintError } from './transaction.ts'

/** Only what belongs to this commission or step. */
export interface Scope {
  readonly commissionId?: string
  readonly stepId?: string
}

/** The newest thing done that still counts and can be taken back; remarks can't, there is nothing to put right. */
export async function lastUndoable(db: Db, scope: Scope = {}): Promise<LogEntry | null> {
  const takenBack = await entriesTakenBack(db)
  for (let before = Number.MAX_SAFE_INTEGER; ;) {
    const ids = await doings(db, scope).where('id', '<', before).orderBy('id', 'desc').limit(PORTION).execute()
    const found = ids.find(({ id }) => !takenBack.has(id))
    if (found !== undefined) return entryById(db, found.id)
    const last = ids.at(-1)
    if (last === undefined || ids.length < PORTION) return null
    before = last.id
  }
}

/** Entries looked at at once: what was taken back stands mostly at the end of the log. */
const PORTION = 20

/** Numbers of what was done and could be taken back. */
const doings = (db: Db, scope: Scope) =>
  within(db, scope)
    .clearSelect()
    .select('id')
    .where(isWhole(scope) ? 'undoes' : unindexedUndoes, 'is', null)
    .where('before', 'is not', null)

const isWhole = ({ commissionId, stepId }: Scope): boolean => commissionId === undefined && stepId === undefined

/** What was taken back last, as the entry that did so, unless something else has been done since; null when there is nothing. */
export async function lastRedoable(db: Db, scope: Scope = {}): Promise<LogEntry | null> {
  const takenBack = await entriesTakenBack(db)
  const newest = await doings(db, scope).orderBy('id', 'desc').limit(1).executeTakeFirst()
  const since = await within(db, scope)
    .where('id', '>', newest?.id ?? 0)
    .where(unindexedUndoes, 'is not', null)
    .where('action', '=', TAKEN_BACK)
    .orderBy('id', 'desc')
    .execute()
  const row = since.find((one) => !takenBack.has(one.id))
  return row === undefined ? null : entryOf(row, takenBack)
}

/**
 * Takes an entry back by writing its opposite, and puts the rows that it changed back to what they were; all entries of one act go
 * together. Taking back the entry that took something back puts that thing back again. Answers with the last entry written.
 *
 * Problems: `entry-missing`, `already-taken-back`, `changed-since` (what it changed has been changed again, or something
 * was built upon it: that has to be taken back first). Nothing is written then.
 */
export async function takeBack(db: Db, entryId: number, stamp: Stamp): Promise<Result<LogEntry>> {
  try {
    return await inTransaction(db, async (trx) => {
      const entry = await entryById(trx, entryId)
      if (entry === null) return failed(problem('entry-missing', `The log has no entry ${entryId}.`))
      if (!entry.counts) return failed(problem('already-taken-back', 'That is undone already.'))
      let act: number | undefined
      for (const member of await entriesOfAct(trx, entry.act)) {
        const id = await takeBackOne(trx, await endOfChain(trx, member), stamp, act)
        act ??= id
      }
      const written = await latestEntry(trx)
      return ok(written)
    })
  } catch (error) {
    if (error instanceof Obstacle) return failed(error.problem)
    if (isConstraintError(error)) return failed(CHANGED_SINCE)
    throw error
  }
}

/** Thrown, so that what was written of the act before it goes as well. */
class Obstacle extends Error {
  readonly problem: Problem
  constructor(problem: Problem) {
    super(problem.message)
    this.problem = problem
  }
}

async function takeBackOne(trx: Db, entry: LogEntry, stamp: Stamp, act: number | undefined): Promise<number> {
  const obstacle = entry.event.kind === 'step' ? await stepObstacle(trx, entry) : await rowObstacle(trx, entry)
  if (obstacle !== null) throw new Obstacle(obstacle)
  if (entry.event.kind === 'rows') await applyChanges(trx, reversed(entry.event.changes))
  return record(trx, { ...opposite(entry, stamp), act })
}

async function latestEntry(trx: Db): Promise<LogEntry> {
  const [written] = await latestEntries(trx, 1)
  if (written === undefined) throw new Error('An entry was written but is not there')
  return written
}

const TAKEN_BACK = 'taken-back'
const PUT_BACK = 'put-back'

const CHANGED_SINCE = problem('changed-since', 'Something later builds on this: undo that first, or change it by hand.')

const within = (db: Db, scope: Scope) => {
  let query = db.selectFrom('log').selectAll()
  if (scope.commissionId !== undefined) query = query.where('commission_id', '=', scope.commissionId)
  if (scope.stepId !== undefined) query = query.where('step_id', '=', scope.stepId)
  return query
}

/** The entry itself, or the last of those that took it back and put it back. */
async function endOfChain(db: Db, entry: LogEntry): Promise<LogEntry> {
  const next = await db.selectFrom('log').select('id').where('undoes', '=', entry.id).executeTakeFirst()
  if (next === undefined) return entry
  const following = await entryById(db, next.id)
  return following === null ? entry : endOfChain(db, following)
}

const opposite = (entry: LogEntry, stamp: Stamp) => ({
  ...stamp,
  commissionId: entry.commissionId,
  pieceId: entry.pieceId,
  stepId: entry.stepId,
  action: entry.action === TAKEN_BACK ? PUT_BACK : TAKEN_BACK,
  event: entry.event.kind === 'rows' ? { kind: 'rows' as const, changes: reversed(entry.event.changes) } : entry.event,
  undoes: entry.id,
})

async function rowObstacle(db: Db, entry: LogEntry): Promise<Problem | null> {
  if (entry.event.kind !== 'rows') return null
  const changes = reversed(entry.event.changes)
  if ((await firstMisfit(db, changes)) !== null) return CHANGED_SINCE
  if (await isBuiltUpon(db, entry.id, changes)) return CHANGED_SINCE
  if (await givesBackTooMuch(db, changes)) return CHANGED_SINCE
  for (const stepId of stepsRemovedBy(changes)) if ((await lastEntryAt(db, stepId)) !== null) return CHANGED_SINCE
  return null
}

/**
 * Whether what was written since, and stands, touched the same cells. It has to be taken back first even where they happen to hold again what
 * they held then: what it found would be gone, and it could never be taken back itself.
 */
async function isBuiltUpon(db: Db, entryId: number, changes: readonly RowChange[]): Promise<boolean> {
  const rows = await db.selectFrom('log').selectAll().where('id', '>', entryId).orderBy('id').execute()
  const roots = new Map<number, number>()
  const standing = new Map<number, readonly RowChange[]>()
  for (const row of rows) {
    const root = row.undoes === null ? row.id : (roots.get(row.undoes) ?? row.undoes)
    roots.set(row.id, root)
    const { event } = entryOf(row, new Set())
    if (event.kind !== 'rows') continue
    // Taken back and put back again, it is as it was.
    if (!standing.delete(root)) standing.set(root, event.changes)
  }
  if (standing.size === 0) return false
  const cells = new Set(changes.flatMap(cellsOf))
  return [...standing.values()].some((later) => later.flatMap(cellsOf).some((cell) => cells.has(cell)))
}

const cellsOf = ({ table, key, before, after }: RowChange): string[] =>
  Object.keys(after ?? before ?? {}).map((column) => JSON.stringify([table, Object.entries(key).sort(), column]))

/** A step's entries are taken back and put back one after the other, so that its state is always one that it once had. */
async function stepObstacle(db: Db, entry: LogEntry): Promise<Problem | null> {
  if (entry.event.kind !== 'step' || entry.stepId === null) return null
  const step = await db.selectFrom('step').select('id').where('id', '=', entry.stepId).executeTakeFirst()
  if (step === undefined) return CHANGED_SINCE
  const expected = entry.action === TAKEN_BACK ? entry.event.lastEntry : await originOf(db, entry)
  return (await lastEntryAt(db, entry.stepId)) === expected ? null : CHANGED_SINCE
}

async function originOf(db: Db, entry: LogEntry): Promise<number> {
  if (entry.undoes === null) return entry.id
  const undone = await entryById(db, entry.undoes)
  return undone === null ? entry.id : originOf(db, undone)
}

const stepsRemovedBy = (changes: readonly RowChange[]): string[] =>
  changes.flatMap((change) => (change.table === 'step' && change.after === null ? [String(change.key['id'])] : []))
