import { problem, type Problem, type Result } from '../problems.ts'
import { coatOverCoat } from '../waits/coat-over-coat.ts'
import { finishClass } from '../waits/finish-classes.ts'
import type { Almanac } from './almanac.ts'
import type { FinishLayer, FinishMethod, FinishSchedule } from './finish-schedule.ts'
import { readWhole } from './read-figures.ts'
import { unlessProblems, idOf, requiredName, refuseTwice, take } from './read-listed.ts'

/** A schedule as its form holds it. */
export interface ScheduleInput {
  readonly id: string
  readonly name: string
  readonly layers: readonly LayerInput[]
  /** Grit or pad; empty: not rubbed out. */
  readonly rubOut: string
  /** Id of a finish; empty: none. */
  readonly wax: string
}

export interface LayerInput {
  readonly finish: string
  readonly coats: string
  readonly method: string
  /** Empty: no sanding between. */
  readonly sandGrit: string
}

export const METHODS: readonly { readonly method: FinishMethod; readonly name: string }[] = [
  { method: 'wipe', name: 'Wiped' },
  { method: 'brush', name: 'Brushed' },
  { method: 'spray', name: 'Sprayed' },
]

/** Problems: those of its fields, and `never-over` where a coat does not hold on the one below it. */
export function readSchedule(input: ScheduleInput, almanac: Almanac): Result<FinishSchedule> {
  const problems: Problem[] = []
  const named = [...almanac.finishSchedules, ...almanac.finishes]
  const name = requiredName(input.name, 'Name it, like: Wiped and waxed.', problems)
  refuseTwice(named, input.id, name, problems)
  if (input.layers.length === 0) problems.push(problem('no-layers', 'Add a coat.', 'layers'))
  const layers = input.layers.map((layer, index) => readLayer(layer, almanac, `layers.${index}`, problems))
  const wax = input.wax === '' ? null : input.wax
  const order = [...layers.map(({ finish }) => finish), ...(wax === null ? [] : [wax])]
  for (const [index, above] of order.entries()) {
    const against = index === 0 ? null : neverOver(above, order[index - 1] ?? '', almanac)
    if (against !== null)
      problems.push(problem('never-over', against, index < layers.length ? `layers.${index}.finish` : 'wax'))
  }
  const id = idOf(input.id, name, [...named, ...almanac.glues])
  return unlessProblems(
    { id, name, layers, rubOut: input.rubOut.trim() === '' ? null : input.rubOut.trim(), wax },
    problems,
  )
}

function readLayer(input: LayerInput, { finishes }: Almanac, field: string, problems: Problem[]): FinishLayer {
  if (!finishes.some(({ id }) => id === input.finish))
    problems.push(problem('finish-unknown', 'Choose a finish of the Almanac.', `${field}.finish`))
  const method = METHODS.find((one) => one.method === input.method)?.method
  if (method === undefined) problems.push(problem('method', 'Wiped, brushed or sprayed?', `${field}.method`))
  const coats = take(readWhole(input.coats, 'Coats', 1, 12), `${field}.coats`, problems) ?? 1
  const grit =
    input.sandGrit.trim() === ''
      ? null
      : take(readWhole(input.sandGrit, 'Grit', 60, 5000), `${field}.sandGrit`, problems)
  return { finish: input.finish, coats, method: method ?? 'wipe', sandGrit: grit }
}

/** Why one finish of the almanac does not hold on another; null where it does, or one is not known. */
function neverOver(above: string, below: string, { finishes }: Almanac): string | null {
  const classOf = (id: string) => finishClass(finishes.find((one) => one.id === id)?.class ?? '')
  const [over, under] = [classOf(above), classOf(below)]
  if (over === null || under === null) return null
  const found = coatOverCoat(over, under)
  return found.kind === 'never' ? found.note : null
}

/** A schedule as its form starts with it; read back unchanged, it is the same. */
export const scheduleInput = (schedule: FinishSchedule | null, firstFinish: string): ScheduleInput =>
  schedule === null
    ? {
        ...{ id: '', name: '', rubOut: '', wax: '' },
        layers: [{ finish: firstFinish, coats: '1', method: 'wipe', sandGrit: '' }],
      }
    : {
        ...{ id: schedule.id, name: schedule.name, rubOut: schedule.rubOut ?? '', wax: schedule.wax ?? '' },
        layers: schedule.layers.map(({ finish, coats, method, sandGrit }) => ({
          ...{ finish, method, coats: String(coats), sandGrit: sandGrit === null ? '' : String(sandGrit) },
        })),
      }
