import { failed, ok, type Problem, type Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { changeFact } from './facts.ts'
import { withListed } from './lists.ts'
import { readNumber, writeFraction } from './read-figures.ts'
import { take } from './read-listed.ts'
import { readMaker, type MakerInput } from './read-maker.ts'
import { startingAlmanac } from './defaults.ts'

/** What a new shop is asked, as typed; null: put off. */
export interface FirstAnswers {
  /** Who hands out the papers, and where to reach the shop. */
  readonly papers: {
    readonly shopName: string
    readonly makerName: string
    readonly address: string
    readonly reach: string
  } | null
  readonly hours: MakerInput['hours'] | null
  /** Of ten such days, on how many somebody gets to the bench: what else is known of that at first nobody knows. */
  readonly daysOfTen: string | null
  /** How many of each, by the station's id. */
  readonly stations: Readonly<Record<string, string>> | null
  /** `always` or `for-work`. */
  readonly heated: string | null
  /** Ids of the wood and the finish used most. */
  readonly usual: Almanac['usual'] | null
}

/**
 * The almanac with what was answered; what was put off stays as it starts. Problems name their field within the answers:
 * `papers.shopName`, `hours.2.from`, `daysOfTen`, `stations.clamps`.
 */
export function answerFirst(almanac: Almanac, answers: FirstAnswers): Result<Almanac> {
  const problems: Problem[] = []
  let now = almanac
  const put = (field: string, changed: Result<Almanac>): void => {
    if (changed.ok) now = changed.value
    else problems.push(...changed.problems.map(({ code, message }) => ({ code, message, field })))
  }
  const { papers, hours, daysOfTen, stations, heated, usual } = answers
  if (papers !== null) {
    put('papers.shopName', changeFact(now, 'shop.name', papers.shopName))
    put('papers.address', changeFact(now, 'money.address', papers.address))
    put('papers.reach', changeFact(now, 'money.reach', papers.reach))
  }
  const [first] = now.makers
  if (first !== undefined) {
    const name = papers === null ? first.name : papers.makerName
    const input = { id: first.id, name, attendance: writeFraction(first.attendance), hours: hours ?? [] }
    const read = readMaker(input, now)
    if (!read.ok) problems.push(...read.problems.map(atMaker))
    const attendance = take(attendanceOf(daysOfTen, first.attendance), 'daysOfTen', problems) ?? first.attendance
    if (read.ok) {
      const { weeklyHours } = hours === null ? first : read.value
      now = withListed(now, 'makers', { ...read.value, weeklyHours, attendance })
    }
  }
  for (const [id, text] of Object.entries(stations ?? {}))
    put(`stations.${id}`, changeFact(now, `stations.${id}.capacity`, text))
  if (heated !== null) put('heated', changeFact(now, 'air.heated', heated))
  if (problems.length > 0) return failed(...problems)
  return ok({
    ...now,
    usual: usual ?? now.usual,
    firstStart: { greeted: true, hoursSaid: hours !== null || now.firstStart.hoursSaid },
  })
}

/** How often somebody comes, 0..1; what is typed as it was shown keeps its exact figure. */
function attendanceOf(daysOfTen: string | null, before: number): Result<number> {
  if (daysOfTen === null || daysOfTen.trim() === writeDaysOfTen(before)) return ok(before)
  const days = readNumber(daysOfTen, 'Of ten such days', 1, 10)
  return days.ok ? ok(days.value / 10) : days
}

/** `9`: on nine days of ten. @param attendance 0..1 */
export const writeDaysOfTen = (attendance: number): string => String(Number((attendance * 10).toFixed(1)))

const atMaker = (found: Problem): Problem => (found.field === 'name' ? { ...found, field: 'papers.makerName' } : found)

/** Whether the maker has said when somebody is in the shop: here, or in the Almanac. */
export const hoursAreSaid = ({ firstStart, makers }: Almanac): boolean =>
  firstStart.hoursSaid || JSON.stringify(makers.map(hoursOf)) !== STARTING_HOURS

/** Whether no week has shop hours: then no step gets a day, but on special days. */
export const noWeekHasHours = ({ makers }: Almanac): boolean =>
  makers.every(({ weeklyHours }) => Object.values(weeklyHours).every((hours) => hours.length === 0))

const hoursOf = ({ weeklyHours }: Almanac['makers'][number]) => weeklyHours

const STARTING_HOURS = JSON.stringify(
  startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' }).makers.map(hoursOf),
)
