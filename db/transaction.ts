import type { Db } from './schema.ts'

/** Runs the work in a transaction of its own, or within the one that is already open: all of it is kept or nothing. */
export const inTransaction = <T>(db: Db, work: (trx: Db) => Promise<T>): Promise<T> =>
  db.isTransaction ? work(db) : db.transaction().execute(work)

/** The database refused because a reference, a key or a checked value would not hold. */
export const isConstraintError = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_CONSTRAINT')
