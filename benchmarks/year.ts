import { readFileSync, writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { overWorlds, printedOverWorlds } from './year/over-worlds.ts'
import { CAUSES, ChancesFollowed, type ChancesByCause } from './year/measures/chances-by-cause.ts'
import { wholeNumbersIn } from './whole-numbers.ts'
import { EFFORTS, oursWatched, POLICIES } from './year/policies/policies.ts'
import { readWorlds } from './year/read-world.ts'
import { answerOf, comparedWithRules, printed, type DoorAnswer } from './year/report.ts'
import { runPolicy, Town } from './year/run.ts'
import { shopOf } from './year/shop.ts'
import { refusedDrafts, workOrderOf } from './year/work-order.ts'
import { DEVELOPMENT_WORLD, type World } from './year/world.ts'

// Promises over a year: every shop of a world lives years of history and the one that is judged, under each policy, with
// customers who leave and with an open door. `--shops 4` for a look, `--all` for every policy. See benchmarks/README.md.

const DOORS = ['leave', 'open'] as const

function main(): void {
  const { values } = parseArgs({
    options: {
      shops: { type: 'string', default: '24' },
      /** From where to where: `25-32`; instead of the first shops. */
      seeds: { type: 'string' },
      world: { type: 'string' },
      out: { type: 'string' },
      policies: { type: 'string' },
      all: { type: 'boolean', default: false },
      door: { type: 'string', default: 'both' },
      /** Years before the judged one. */
      history: { type: 'string', default: '2' },
      /** How much ours looks for: `look` or `more`. */
      effort: { type: 'string', default: 'look' },
      /** Ours alone, and where its promises lost their chance. */
      causes: { type: 'boolean', default: false },
    },
  })
  const doors = DOORS.filter((door) => values.door === 'both' || values.door === door)
  if (doors.length === 0) return refuse('--door: leave, open or both.')
  const seeds = wholeNumbersIn(values.seeds ?? `1-${values.shops}`)
  if (seeds === null) return refuse('--shops: a whole number; --seeds: from where to where, like 25-32.')
  const kinds = kindsOf(values.policies, values.all)
  if (kinds === null) return refuse(`--policies: some of ${POLICIES.map(({ name }) => name).join('; ')}.`)
  const years = Number(values.history)
  if (years !== 1 && years !== 2) return refuse('--history: 1 or 2 years before the judged one.')
  const effort = Object.entries(EFFORTS).find(([name]) => name === values.effort)?.[1]
  if (effort === undefined) return refuse('--effort: look or more.')
  const worlds = worldsOf(values.world)
  if (worlds === null) return

  const answers: DoorAnswer[] = []
  for (const world of worlds) {
    for (const door of doors) {
      const towns = seeds.map((seed) => new Town(shopOf(world, seed, years), door === 'open'))
      for (const { shop, customers } of towns) {
        const makeable = refusedDrafts(shop, customers)
        if (!makeable.ok)
          return refuse(
            `World ${world.name}, orders.mix: ${makeable.problems[0]?.field}: ${makeable.problems[0]?.message}`,
          )
      }
      if (values.causes) {
        for (const town of towns) console.log(printedCauses(town.shop.name, causesIn(town)))
        continue
      }
      const ran = kinds.map((kind) => {
        const before = process.cpuUsage().user
        const answer = runPolicy(kind, towns, effort)
        console.error(
          `${world.name}, ${door}, ${kind.name}: ${((process.cpuUsage().user - before) / 1e6).toFixed(1)} s`,
        )
        return answer
      })
      const answer = answerOf(world.name, door, seeds, ran, comparedWithRules(ran, towns))
      answers.push(answer)
      console.log(printed(answer))
    }
  }
  if (worlds.length > 1) console.log(printedOverWorlds(overWorlds(answers)))
  if (values.out !== undefined) writeFileSync(values.out, `${JSON.stringify(answers, null, 2)}\n`)
}

function causesIn(town: Town): ChancesByCause {
  const followed = new ChancesFollowed()
  const outcomes = town.live(oursWatched(town.shop, followed.watch))
  const commissions = new Map(
    town.customers.map((customer) => [customer.id, workOrderOf(town.shop, customer).book.commission.id]),
  )
  return followed.summary(outcomes, ({ id }) => commissions.get(id))
}

function printedCauses(shop: string, { promises, stated, kept, first, changedBy, atLast }: ChancesByCause): string {
  const by = CAUSES.map((cause) => `${cause} ${changedBy[cause].toFixed(3)}`)
  return `${shop}: ${promises} promises, stated ${stated.toFixed(3)}, kept ${kept.toFixed(3)}; once taken ${first.toFixed(3)}, changed by ${by.join(', ')}, at last ${atLast.toFixed(3)}`
}

function refuse(message: string): void {
  console.error(message)
  process.exitCode = 2
}

function kindsOf(names: string | undefined, all: boolean) {
  if (names === undefined) return POLICIES.filter(({ isUsual }) => all || isUsual)
  const wanted = names.split(';').map((name) => name.trim())
  const known = wanted.map((name) => POLICIES.find((kind) => kind.name === name))
  return known.every((kind) => kind !== undefined) ? known : null
}

function worldsOf(file: string | undefined): readonly World[] | null {
  if (file === undefined) return [DEVELOPMENT_WORLD]
  let text: string
  try {
    text = readFileSync(file, 'utf8')
  } catch {
    refuse(`--world: ${file} cannot be read.`)
    return null
  }
  const worlds = readWorlds(text)
  if (worlds.ok) return worlds.value
  refuse(worlds.problems.map(({ message }) => `${file}: ${message}`).join('\n'))
  return null
}

main()
