import { closeSync, openSync, rmSync, writeSync } from 'node:fs'
import SqliteFile from 'better-sqlite3'

export function overwrite(path: string, at: number, bytes: Uint8Array): void {
  const file = openSync(path, 'r+')
  writeSync(file, bytes, 0, bytes.length, at)
  closeSync(file)
}

/** Page size and first page of a table, to hit what matters. */
export function pageOf(path: string, table: string): { size: number; offset: number } {
  const file = new SqliteFile(path, { readonly: true })
  const size = file.pragma('page_size', { simple: true }) as number
  const root = file.prepare('select rootpage from sqlite_schema where name = ?').pluck().get(table) as number
  file.close()
  for (const ending of ['-wal', '-shm']) rmSync(path + ending, { force: true })
  return { size, offset: (root - 1) * size }
}
