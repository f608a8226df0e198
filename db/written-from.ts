import { AsyncLocalStorage } from 'node:async_hooks'
import type { Db } from './schema.ts'

/** The phone or tablet that entries of the log are written for, and the key of the press that they come from. */
export interface WrittenFrom {
  /** Its name. */
  readonly device: string
  /** Null: nothing that may be sent twice. */
  readonly pressKey: string | null
}

const from = new AsyncLocalStorage<WrittenFrom>()

/** Whatever the work writes to the log carries this; nobody in between has to pass it on, or could forget to. */
export const writingFrom = <T>(who: WrittenFrom, work: () => Promise<T>): Promise<T> => from.run(who, work)

/** What goes before a press, in a write of its own: it may be kept where the press is not, so it must not stand in the log with its key. */
export function writingBefore<T>(work: () => Promise<T>): Promise<T> {
  const who = from.getStore()
  return who === undefined ? work() : from.run({ ...who, pressKey: null }, work)
}

/** Null: written at the desk itself. */
export const writtenFrom = (): WrittenFrom | null => from.getStore() ?? null

/** Whether a press with this key is in the log already. */
export const isPressKept = async (db: Db, { device, pressKey }: WrittenFrom): Promise<boolean> =>
  (await db
    .selectFrom('log')
    .select('id')
    .where('press_key', '=', pressKey)
    .where('device', '=', device)
    .executeTakeFirst()) !== undefined

/** The device of an entry; null: the desk, or there is no such entry. */
export const deviceOfEntry = async (db: Db, id: number): Promise<string | null> =>
  (await db.selectFrom('log').select('device').where('id', '=', id).executeTakeFirst())?.device ?? null
