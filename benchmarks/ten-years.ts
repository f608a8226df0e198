import { randomUUID } from 'node:crypto'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { checksumOf } from '../db/log-chain.ts'
import { digestOf } from '../db/row-digest.ts'
import { draftOf } from './large-book.ts'
import { trialDesk } from './hard/trial-desk.ts'

type Row = Record<string, unknown>

/** Tables with rows of one order, parents first. */
const TABLES = ['customer', 'commission', 'piece', 'step', 'step_hold', 'lag', 'promise', 'money_entry'] as const

const DAY_MIN = 1440

/**
 * Fills a new data file with orders that were taken, made and handed over, one after the other up to `untilMs`. One of them is worked
 * through by the desk, press by press; the others are that one again, with other ids, days and numbers, and a log that is chained as ever.
 */
export async function fillYears(dataFolder: string, orders: number, years: number, untilMs: number): Promise<void> {
  const firstMs = untilMs - years * 365 * DAY_MIN * 60_000
  await workThroughOne(dataFolder, firstMs)
  const file = new SqliteFile(join(dataFolder, 'shop.sqlite'))
  // Written once, and thrown away where that does not succeed.
  for (const setting of ['journal_mode = off', 'synchronous = off', 'cache_size = -1000000']) file.pragma(setting)
  file.pragma('foreign_keys = off')
  const all = (table: string): Row[] => file.prepare(`select * from ${table} order by rowid`).all() as Row[]
  const rows = new Map(TABLES.map((table) => [table, all(table)]))
  const log = all('log').filter((entry) => entry['commission_id'] !== null)
  const ids = new Set(
    [...rows].flatMap(([table, some]) => (table === 'lag' ? [] : some.map((row) => String(row['id'])))),
  )
  const last = file.prepare('select id, checksum from log order by id desc limit 1').get() as {
    id: number
    checksum: string
  }
  const begun = Number(log[0]?.['id'])
  let checksum: string | null = last.checksum
  file.transaction(() => {
    for (let number = 2; number <= orders; number++) {
      const again = anew(ids, Math.floor((years * 365 * (number - 1)) / orders), number)
      for (const table of TABLES) for (const row of rows.get(table) ?? []) insert(file, table, again(table, row))
      const shift = last.id + 1 - begun + (number - 2) * log.length
      for (const entry of log) {
        const next = again('log', entry)
        next['id'] = Number(entry['id']) + shift
        for (const column of ['act', 'undoes']) if (entry[column] !== null) next[column] = Number(entry[column]) + shift
        checksum = next['checksum'] = checksumOf(next as never, checksum)
        insert(file, 'log', next)
      }
    }
    const digest = digestOf('running_number', { name: 'commission', last: orders })
    file.prepare(`update running_number set last = ?, digest = ? where name = 'commission'`).run(orders, digest)
  })()
  file.close()
}

async function workThroughOne(dataFolder: string, fromMs: number): Promise<void> {
  const desk = await trialDesk(dataFolder, () => fromMs)
  const ask = async <T>(name: string, input: unknown = {}): Promise<T> => {
    const reply = await desk.call(name, input)
    if (!reply.ok) throw new Error(`${name}: ${reply.problems[0]?.message}`)
    return reply.value as T
  }
  const setClock = (minutes: number) => ask('testSetClock', { now: new Date(minutes * 60_000).toISOString() })
  // Of the day before, which is over in every time zone.
  let day = ''
  const promisedFor = new Date(fromMs + 50 * DAY_MIN * 60_000).toISOString().slice(0, 10)
  const { commissionId } = await ask<{ commissionId: string }>('takeOrder', {
    ...{ draft: { ...draftOf(0), price: '420', deposit: '200', depositHow: 'cash' }, standing: 'agreed', promisedFor },
  })
  interface Next {
    readonly stepId: string
    readonly plannedAt: number
    readonly plannedEndAt: number
  }
  for (;;) {
    const { canStart, comingUp } = await ask<{ canStart: Next[]; comingUp: Next[] }>('bench', { rows: 24 })
    const next = canStart[0] ?? comingUp[0]
    if (next === undefined) break
    const endAt = Math.min(next.plannedEndAt, next.plannedAt + 90)
    await setClock(next.plannedAt)
    await ask('stepStart', { stepId: next.stepId, anyway: true })
    // What is planned over the night is done before it.
    await setClock(endAt)
    await ask('stepDone', { stepId: next.stepId, anyway: true })
    day = new Date(endAt * 60_000 - DAY_MIN * 60_000).toISOString().slice(0, 10)
  }
  await ask('commissionHandOver', { id: commissionId })
  const balance = { kind: 'payment', amount: '220', how: 'cash', day, reference: '' }
  await ask('moneyEnter', { id: commissionId, money: balance })
  await desk.close()
}

/** How rows of the first order become those of another one. */
function anew(ids: ReadonlySet<string>, days: number, number: number): (table: string, row: Row) => Row {
  const others = new Map<string, string>()
  const other = (id: string): string => {
    if (!others.has(id)) others.set(id, randomUUID())
    return others.get(id) ?? id
  }
  const text = (value: string): string =>
    value
      .replaceAll(/[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, (id) => (ids.has(id) ? other(id) : id))
      .replaceAll(/\b20\d\d-\d\d-\d\d\b/g, (day) =>
        new Date(Date.parse(day) + days * 86_400_000).toISOString().slice(0, 10),
      )
      .replaceAll(/"(\w+_min)":(2\d{7})\b/g, (_, name, min) => `"${name}":${Number(min) + days * DAY_MIN}`)
      .replaceAll(/"(\w+_ms)":(1\d{12})\b/g, (_, name, ms) => `"${name}":${Number(ms) + days * 86_400_000}`)
      .replaceAll('"number":1,', `"number":${number},`)
      .replaceAll('Customer 0', `Customer ${number}`)
  return (table, row) => {
    const next: Row = {}
    for (const [column, value] of Object.entries(row)) {
      if (typeof value === 'string') next[column] = text(value)
      else if (typeof value === 'number' && /_min$/.test(column) && value > 20_000_000)
        next[column] = value + days * DAY_MIN
      else if (typeof value === 'number' && /_ms$/.test(column)) next[column] = value + days * 86_400_000
      else next[column] = value
    }
    if (table === 'commission') next['number'] = number
    if (table === 'promise') {
      delete next['id']
      next['digest'] = digestOf('promise', next)
    }
    return next
  }
}

const statements = new WeakMap<SqliteFile.Database, Map<string, SqliteFile.Statement>>()

function insert(file: SqliteFile.Database, table: string, row: Row): void {
  const known = statements.get(file) ?? new Map<string, SqliteFile.Statement>()
  statements.set(file, known)
  let statement = known.get(table)
  if (statement === undefined) {
    const columns = Object.keys(row)
    statement = file.prepare(
      `insert into ${table} (${columns.map((each) => `"${each}"`).join(', ')}) values (${columns.map(() => '?').join(', ')})`,
    )
    known.set(table, statement)
  }
  statement.run(...Object.values(row))
}
