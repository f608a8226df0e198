import type SqliteFile from 'better-sqlite3'
import type { ReadTable, Row } from './readable-rows.ts'
import type { Database } from './schema.ts'

/** One and several of what a table holds, as makers call it. */
const WORDS: Readonly<Record<keyof Database, readonly [one: string, several: string]>> = {
  customer: ['customer', 'customers'],
  commission: ['order', 'orders'],
  piece: ['piece', 'pieces'],
  step: ['step', 'steps'],
  step_hold: ['clamp or rack booking', 'clamp or rack bookings'],
  lag: ['wait', 'waits'],
  log: ['log entry', 'log entries'],
  promise: ['promise', 'promises'],
  running_number: ['last number of a series', 'last numbers of series'],
  draft: ['order being typed', 'orders being typed'],
  notice_shown: ['notice already shown', 'notices already shown'],
  announced_start: ['start time already shown', 'start times already shown'],
  upkeep: ['upkeep date', 'upkeep dates'],
  shop: ['shop name and setting', 'shop names and settings'],
  unheated_month: ['month of shop air', 'months of shop air'],
  own_list: ['Almanac list of your own', 'Almanac lists of your own'],
  maker: ['maker', 'makers'],
  maker_hours: ['stretch of shop hours', 'stretches of shop hours'],
  special_day: ['special day', 'special days'],
  special_day_hours: ['stretch of special-day hours', 'stretches of special-day hours'],
  station: ['station', 'stations'],
  product: ['glue or finish', 'glues and finishes'],
  product_label: ['label time', 'label times'],
  own_construction: ['construction of your own', 'constructions of your own'],
  wood: ['wood', 'woods'],
  standard_time: ['standard time', 'standard times'],
  time_decision: ['choice of your time or the book’s', 'choices of your time or the book’s'],
  observation_choice: ['timed step counted or left out by you', 'timed steps counted or left out by you'],
  asked_time: ['time you gave for a task', 'times you gave for tasks'],
  allowance: ['allowance', 'allowances'],
  yard_size: ['lumberyard size', 'lumberyard sizes'],
  shop_figure: ['Almanac figure', 'Almanac figures'],
  drying_place: ['drying place', 'drying places'],
  own_wait: ['wait of your own', 'waits of your own'],
  wood_price: ['wood price', 'wood prices'],
  money_fact: ['price or tax setting', 'price and tax settings'],
  money_entry: ['payment', 'payments'],
  year_figure: ['figure for a year', 'figures for a year'],
  paper: ['paper', 'papers'],
  photo: ['photo', 'photos'],
  board: ['board', 'boards'],
  board_flaw: ['board defect', 'board defects'],
  part_cut: ['part cut from a board', 'parts cut from boards'],
  supply: ['supply', 'supplies'],
  erasure: ['record of an erased customer', 'records of erased customers'],
  erasing: ['mark of an erasing under way', 'marks of an erasing under way'],
}

/** What is in no list of losses: the book is planned anew without it. */
const PLANNED_ANEW: ReadonlySet<string> = new Set(['announced_start'])

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
    const told = [...this.#kinds].filter(([table]) => !PLANNED_ANEW.has(table))
    const kinds = told.map(([table, { count, isOpenEnded }]) => {
      if (count === 0) return `An unknown number of ${words(table, 2)}`
      return isOpenEnded ? `Up to ${count} ${words(table, count)}` : `${count} ${words(table, count)}`
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

/** A table of an earlier version that is no more goes by its own name. */
const words = (table: string, count: number): string => {
  const [one, several] = table in WORDS ? WORDS[table as keyof Database] : [spoken(table), spoken(table)]
  return count === 1 ? one : several
}

const spoken = (table: string): string => table.replaceAll('_', ' ')
