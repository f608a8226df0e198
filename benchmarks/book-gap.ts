import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { improve, PATIENCE_MIN, type PlanningProblem } from '../core/planning/index.ts'
import { generateOrderBook } from './generate-order-book.ts'
import { processorTime } from './processor-time.ts'
import { wholeNumbersIn } from './whole-numbers.ts'

// How far the plan that a maker sees after some seconds is from the best that many long searches find, by generated order book.
// A run depends on the book, the seed and the number of schedules alone, so runs of several days add up in one file.

/** Invented books of this many commissions, with the aim that the app gives its planner. */
const COMMISSIONS = 20

interface Run {
  readonly book: number
  readonly schedules: number
  readonly seed: number
  /** What the search makes least, see `Objective.weightedTardiness`, in days. */
  readonly weightedDaysLate: number
  readonly processorS: number
}

function main(): void {
  const { values } = parseArgs({
    options: {
      books: { type: 'string', default: '101-112' },
      schedules: { type: 'string', default: '800' },
      seeds: { type: 'string', default: '1' },
      out: { type: 'string', default: 'book-gap.json' },
    },
  })
  const schedules = values.schedules.split(',').map(Number)
  const books = wholeNumbersIn(values.books)
  const seeds = wholeNumbersIn(values.seeds)
  if (books === null || seeds === null || !schedules.every((number) => Number.isInteger(number) && number > 0)) {
    console.error('Use: bench:book-gap -- [--books 101-112] [--schedules 800,24000] [--seeds 1-10] [--out file]')
    process.exitCode = 2
    return
  }
  const runs: Run[] = existsSync(values.out) ? (JSON.parse(readFileSync(values.out, 'utf8')) as Run[]) : []
  for (const length of schedules) {
    for (const seed of seeds) {
      for (const book of books) {
        // A shorter search that left nobody late cannot be bettered by a longer one.
        const known = runs.some(
          (run) =>
            run.book === book &&
            (run.schedules === length ? run.seed === seed : run.schedules < length && run.weightedDaysLate === 0),
        )
        if (known) continue
        runs.push(searched(book, length, seed))
        writeFileSync(values.out, `${JSON.stringify(runs)}\n`)
      }
    }
  }
  console.table(table(runs))
}

function searched(book: number, schedules: number, seed: number): Run {
  const problem: PlanningProblem = { ...generateOrderBook(COMMISSIONS, book), patienceMin: PATIENCE_MIN }
  const began = processorTime()
  const search = improve(problem, { schedules, seed })
  let next = search.next()
  while (!next.done) next = search.next()
  if (!next.value.ok) throw new Error(`Book ${book}: ${next.value.problems[0]?.message ?? 'refused'}`)
  const { objective } = next.value.value
  return {
    book,
    schedules,
    seed,
    weightedDaysLate: objective.weightedTardiness / 1440,
    processorS: Math.round((processorTime() - began) / 100) / 10,
  }
}

/** By book: for each length of search the mean and the best over its seeds. */
function table(runs: readonly Run[]): Record<string, Record<string, string>> {
  const rows: Record<string, Record<string, string>> = {}
  for (const { book } of [...runs].sort((a, b) => a.book - b.book)) {
    const ofBook = runs.filter((run) => run.book === book)
    const lengths = [...new Set(ofBook.map(({ schedules }) => schedules))].sort((a, b) => a - b)
    rows[book] = Object.fromEntries(
      lengths.map((length) => {
        const late = ofBook.filter(({ schedules }) => schedules === length).map((run) => run.weightedDaysLate)
        const mean = late.reduce((sum, days) => sum + days, 0) / late.length
        return [`${length} schedules`, `${mean.toFixed(1)}, best of ${late.length} ${Math.min(...late).toFixed(1)}`]
      }),
    )
  }
  return rows
}

main()
