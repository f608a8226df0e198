import { standardTimesOf } from '../../core/almanac/standard-times.ts'
import { busiestMaker, meanRate, yourTime, type LeftOutWhy } from '../../core/learning/index.ts'
import { entriesOfAction } from '../../db/work-logged.ts'
import type { LogEntry } from '../../db/log.ts'
import type { OpenShop } from '../open-shop.ts'
import { TIMES_DECIDED } from './choose-times.ts'
import { learnedBy, type Learned } from './learned.ts'
import { ASKED_FIRST } from './asked-first.ts'

/** The Almanac's page of the shop's own times. Minutes are for one unit, set-up apart. */
export interface YourTimesView {
  readonly follow: 'by-themselves' | 'when-accepted' | null
  readonly times: readonly YourTimeRow[]
  readonly leftOut: readonly LeftOutRow[]
  /** Entries that the maker put back. */
  readonly putBack: readonly { readonly stepId: string; readonly text: string }[]
  readonly attendance: readonly {
    readonly maker: string
    readonly met: number
    readonly missed: number
    readonly rate: number
  }[]
  /** What the first start asks, with what was answered; minutes are of all its units together. */
  readonly asked: readonly {
    readonly operation: string
    readonly what: string
    readonly bookMin: number
    readonly minutes: number | null
  }[]
  readonly history: readonly {
    readonly entryId: number
    readonly atMs: number
    readonly who: string | null
    readonly text: string
    readonly undone: boolean
  }[]
}

export interface YourTimeRow {
  readonly operation: string
  readonly name: string
  readonly unit: string
  readonly bookMin: number
  readonly yoursMin: number
  readonly fromMin: number
  readonly toMin: number
  readonly pieces: number
  /** Null: not decided, so what was drawn up by the book stays as it is. */
  readonly use: 'mine' | 'book' | null
  /** What is planned with. */
  readonly inUseMin: number
  readonly decidedAtMin: number | null
}

export interface LeftOutRow {
  readonly stepId: string
  readonly text: string
  readonly endedAt: number
  readonly why: string
  readonly canCount: boolean
  /** Left out by the maker, not by a rule. */
  readonly byYou: boolean
}

export async function yourTimesView(shop: OpenShop): Promise<YourTimesView> {
  const { almanac } = shop
  const learned = await learnedBy(shop)
  const wordsOf = (stepId: string): string => {
    const step = learned.newest.at(stepId)?.step
    return step === undefined ? 'A step of an order that was undone' : `${step.name}, no. ${step.number}: ${step.title}`
  }
  const counted = new Set(learned.observed.observations.map(({ stepId }) => stepId))
  return {
    follow: almanac.times.follow,
    times: rowsOf(shop, learned),
    leftOut: learned.observed.leftOut
      .map(({ stepId, workedMin, endedAt, why, canCount }) => ({
        ...{ stepId, endedAt, canCount, byYou: why === 'by-you' },
        text: wordsOf(stepId),
        why: WHY_WORDS[why](workedMin),
      }))
      .sort((a, b) => b.endedAt - a.endedAt),
    putBack: almanac.times.entries
      .filter(({ stepId, choice }) => choice === 'count' && counted.has(stepId))
      .map(({ stepId }) => ({ stepId, text: wordsOf(stepId) })),
    attendance: learned.attendance.makers.map(({ id, met, missed, rate }) => ({
      maker: almanac.makers.find((maker) => maker.id === id)?.name ?? id,
      ...{ met, missed, rate: meanRate(rate) },
    })),
    asked: askedRows(shop),
    history: (await entriesOfAction(shop.db, TIMES_DECIDED, 50)).map((entry) => historyRow(entry, shop)),
  }
}

/** Operations of which there is something to tell, those with most pieces first. */
function rowsOf({ almanac }: OpenShop, { times, observed }: Learned): YourTimeRow[] {
  const pieces = Map.groupBy(observed.observations, ({ operation }) => operation)
  const makerId = busiestMaker(observed.observations, almanac.makers)
  const decisions = new Map(almanac.times.decisions.map((decision) => [decision.operation, decision]))
  const said = new Set(almanac.times.asked.map(({ operation }) => operation))
  return [...standardTimesOf(almanac).values()]
    .flatMap((time) => {
      const count = pieces.get(time.operation)?.length ?? 0
      const decision = decisions.get(time.operation)
      if (count === 0 && decision === undefined && !said.has(time.operation)) return []
      const own = yourTime(times, time, makerId, count)
      const use = decision?.use ?? null
      return [
        {
          ...own,
          name: time.name,
          unit: time.unit,
          use: use?.kind ?? null,
          inUseMin: use?.kind === 'mine' ? use.perUnitMin : time.perUnitMin,
          decidedAtMin: decision?.decidedAtMin ?? null,
        },
      ]
    })
    .sort((a, b) => b.pieces - a.pieces || a.name.localeCompare(b.name))
}

const WHY_WORDS: Readonly<Record<LeftOutWhy, (workedMin: number) => string>> = {
  failed: () => 'It failed, so its time is not a usual one',
  remedy: () => 'Started after its window had closed: making up for that is in its time',
  'no-start': () => 'Done without a start: no minutes to learn from',
  'too-short': (minutes) => `Only ${minutes} min: written up afterwards?`,
  'too-long': () => 'Over six hours without a pause: forgotten?',
  'through-the-night': () => 'Ran through the night: pause forgotten?',
  'two-at-once': () => 'Another step of the same maker ran at the same time',
  'by-you': () => 'You left it out',
}

const askedRows = ({ almanac }: OpenShop): YourTimesView['asked'] =>
  ASKED_FIRST.map(({ operation, units, what }) => {
    const time = standardTimesOf(almanac).get(operation)
    return {
      ...{ operation, what },
      bookMin: Math.round((time?.perUnitMin ?? 1) * units),
      minutes: almanac.times.asked.find((one) => one.operation === operation)?.minutes ?? null,
    }
  })

function historyRow(entry: LogEntry, { almanac }: OpenShop): YourTimesView['history'][number] {
  const names = standardTimesOf(almanac)
  const changes = entry.event.kind === 'rows' ? entry.event.changes : []
  const texts = changes.map(({ table, key, after }) => {
    const operation = String(key['operation'] ?? '')
    const name = names.get(operation)?.name ?? operation
    if (table === 'time_decision') {
      if (after === null) return `${name}: undecided`
      return after['choice'] === 'book'
        ? `${name}: the book’s`
        : `${name}: yours, ${tenths(Number(after['per_unit_min']))} min`
    }
    if (table === 'asked_time')
      return after === null ? `${name}: answer removed` : `${name}: ${Number(after['minutes'])} min, as you said`
    if (table === 'observation_choice') {
      if (after === null) return 'An entry left as the log has it'
      return after['choice'] === 'count' ? 'An entry put back' : 'An entry left out'
    }
    return after?.['follow_times'] === 'by-themselves' ? 'Your times are followed' : 'Your times wait for your word'
  })
  return {
    entryId: entry.id,
    atMs: entry.atMs,
    who: almanac.makers.find(({ id }) => id === entry.makerId)?.name ?? null,
    text: texts.join('; '),
    undone: !entry.counts,
  }
}

const tenths = (minutes: number): string => String(Number(minutes.toFixed(minutes < 10 ? 2 : 1)))
