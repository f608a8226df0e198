import type { Maker } from '../core/almanac/almanac.ts'
import { makerHours } from './hours-rows.ts'
import { entriesTakenBack, entryOf } from './log.ts'
import type { Cells, RowChange } from './row-changes.ts'
import type { Db } from './schema.ts'

/** A stretch of time, whole minutes since the Unix epoch; without end: `Infinity`. */
interface Stretch {
  readonly from: number
  readonly to: number
}

/** When each maker had the hours of now: stretches, oldest first. Whose hours were never changed is not in it. */
export type HoursHeld = ReadonlyMap<string, readonly [Stretch, ...Stretch[]]>

/**
 * When the weekly hours of each maker were what they are, by the entries of the log that count. Hours that were changed and are as before
 * again have two stretches.
 * @param starting the makers that a new shop starts with
 */
export async function hoursHeld(db: Db, starting: readonly Maker[]): Promise<HoursHeld> {
  const rows = await db.selectFrom('log').selectAll().where('action', '=', 'almanac-changed').orderBy('id').execute()
  const takenBack = await entriesTakenBack(db)
  const hours = new HoursOverTime(starting)
  for (const { atMs, event, counts } of rows.map((row) => entryOf(row, takenBack)))
    if (counts && event.kind === 'rows') hours.change(event.changes, Math.floor(atMs / 60_000))
  return hours.asNow()
}

/** Hours of each maker from one change to the next. */
class HoursOverTime {
  readonly #starting: ReadonlyMap<string, readonly Cells[]>
  /** Rows of the store by their key; makers are stored from the first change of any of them on. */
  readonly #stored = new Map<string, Cells>()
  #areStored = false
  /** From when on each maker had which hours, in words. */
  readonly #had = new Map<string, { readonly from: number; readonly words: string }[]>()

  constructor(starting: readonly Maker[]) {
    this.#starting = Map.groupBy(starting.flatMap(makerHours), ({ maker_id }) => maker_id)
  }

  change(changes: readonly RowChange[], at: number): void {
    const before = this.#byMaker()
    for (const { table, key, after } of changes) {
      if (table === 'own_list' && key['name'] === 'makers') this.#areStored = after !== null
      if (table !== 'maker_hours') continue
      const name = JSON.stringify(Object.entries(key).sort())
      if (after === null) this.#stored.delete(name)
      else this.#stored.set(name, { ...key, ...this.#stored.get(name), ...after })
    }
    const now = this.#byMaker()
    for (const maker of new Set([...before.keys(), ...now.keys()])) {
      const [was, is] = [inWords(before.get(maker)), inWords(now.get(maker))]
      if (was === is) continue
      const had = this.#had.get(maker) ?? [{ from: -Infinity, words: was }]
      this.#had.set(maker, [...had, { from: at, words: is }])
    }
  }

  asNow(): HoursHeld {
    return new Map(
      [...this.#had].map(([maker, had]) => {
        const [last, ...earlier] = had
          .map(({ from, words }, index) => ({ from, to: had[index + 1]?.from ?? Infinity, words }))
          .reverse()
        const held = earlier.filter(({ words }) => words === last!.words).reverse()
        return [maker, [...held, last!].map(({ from, to }) => ({ from, to })) as [Stretch, ...Stretch[]]]
      }),
    )
  }

  #byMaker(): ReadonlyMap<string, readonly Cells[]> {
    if (!this.#areStored) return this.#starting
    return Map.groupBy(this.#stored.values(), (row) => String(row['maker_id']))
  }
}

/** No hours at all, or nobody of that name: no words. */
const inWords = (rows: readonly Cells[] = []): string =>
  rows
    .map(({ weekday, from_min, to_min }) => `${weekday} ${from_min} ${to_min}`)
    .sort()
    .join()
