import type SqliteFile from 'better-sqlite3'
import type { ReadTable, Row } from './readable-rows.ts'

/** One and several of what a table holds, as makers call it. */
const WORDS: Readonly<Record<string, readonly [one: string, several: string]>> = {
  commission: ['order', 'orders'],
  customer: ['customer', 'customers'],
  piece: ['piece', 'pieces'],
  step: ['step', 'steps'],
  lag: ['wait', 'waits'],
  step_hold: ['clamp or rack booking', 'clamp or rack bookings'],
  log: ['entry of the log', 'entries of the log'],
  draft: ['order being typed', 'orders being typed'],
  money_entry: ['payment', 'payments'],
  paper: ['paper', 'papers'],
  photo: ['photo', 'photos'],
  board: ['board', 'boards'],
  supply: ['supply', 'supplies'],
  promise: ['promise', 'promises'],
}

/** What could not be rescued, counted by kind and by the order that it belongs to. */
export class LossList {
  readonly #kinds = new Map<string, { count: number; isOpenEnded: boolean }>()
  /** By the order's id: of each table how many. */
  readonly #ofOrder = new Map<string, Map<string, number>>()
  readonly #orderOfPiece = new Map<string, string>()
  readonly #names = new Map<string, string>()
  readonly #nameless: string[] = []

  unreadable(table: string, { unreadable, isWhole }: ReadTable): void {
    if (isWhole) return
    const kind = this.#kind(table)
    kind.count += unreadable
    kind.isOpenEnded = true
  }

  /** A row that was read but is of no use. */
  row(table: string, row: Row): void {
    this.#kind(table).count += 1
    if (table === 'piece') this.#orderOfPiece.set(String(row['id']), String(row['commission_id']))
    const order = row['commission_id'] ?? this.#orderOfPiece.get(String(row['piece_id']))
    if (typeof order !== 'string') return
    const tables = this.#ofOrder.get(order) ?? new Map<string, number>()
    tables.set(table, (tables.get(table) ?? 0) + 1)
    this.#ofOrder.set(order, tables)
  }

  /** To be called once orders and pieces are filled in, before anything is taken out again. */
  nameOrders(file: SqliteFile.Database): void {
    const orders = file.prepare(
      `select commission.id, number, coalesce(name, '(name lost)') as name from commission left join customer on customer.id = customer_id`,
    )
    for (const { id, number, name } of orders.all() as { id: string; number: number; name: string }[])
      this.#names.set(id, `Order no. ${number} (${name})`)
    for (const { id, order } of file.prepare('select id, commission_id as "order" from piece').all() as {
      id: string
      order: string
    }[])
      this.#orderOfPiece.set(id, order)
  }

  customerOf(file: SqliteFile.Database, id: string): void {
    const numbers = file.prepare('select number from commission where customer_id = ? order by number').pluck().all(id)
    for (const number of numbers) this.#nameless.push(`Order no. ${String(number)}: who ordered it is lost`)
  }

  lines(): string[] {
    const kinds = [...this.#kinds].map(([table, { count, isOpenEnded }]) => {
      if (count === 0) return `Some ${words(table, 2)}, nobody can say how many`
      return isOpenEnded ? `${count} ${words(table, count)} or fewer` : `${count} ${words(table, count)}`
    })
    const orders = [...this.#ofOrder].flatMap(([order, tables]) => {
      const name = this.#names.get(order)
      const what = [...tables].map(([table, count]) => `${count} ${words(table, count)}`).join(', ')
      return name === undefined ? [] : [`${name}: ${what}`]
    })
    return [...this.#nameless, ...orders, ...kinds]
  }

  #kind(table: string): { count: number; isOpenEnded: boolean } {
    const kind = this.#kinds.get(table) ?? { count: 0, isOpenEnded: false }
    this.#kinds.set(table, kind)
    return kind
  }
}

const words = (table: string, count: number): string => {
  const [one, several] = WORDS[table] ?? [`line of “${spoken(table)}”`, `lines of “${spoken(table)}”`]
  return count === 1 ? one : several
}

const spoken = (table: string): string => table.replaceAll('_', ' ')
