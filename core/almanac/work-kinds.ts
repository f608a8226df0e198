import type { BookStep } from '../book/book.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { operationKind, type OperationKind } from './operations.ts'

/** A kind of work that not everybody in the shop does. */
export interface WorkKind {
  readonly id: string
  readonly name: string
  /** Ways to type it, bare letters. */
  readonly typed: readonly string[]
  /** Setup families of the standard times whose steps are done on it. */
  readonly families: readonly string[]
  /** Operations of these kinds belong to it, whatever they are set up on. */
  readonly operations: readonly OperationKind[]
}

/** Machines come first: a shop may count each of them as a station. */
export const MACHINES: readonly WorkKind[] = [
  machine('saw', 'Table saw', ['saw'], ['rip-saw', 'crosscut-sled', 'dado', 'mitre', 'spline-jig']),
  machine('planer', 'Jointer and planer', ['planer', 'jointer'], ['planer']),
  machine('drum-sander', 'Drum sander', ['sander'], ['drum-sander']),
  machine('router-table', 'Router table', ['router'], ['router', 'router-core-box', 'router-cove']),
  machine('mortiser', 'Mortiser', [], ['mortiser']),
]

export const WORK_KINDS: readonly WorkKind[] = [
  ...MACHINES,
  {
    ...{ id: 'glue-ups', name: 'Glue-ups', typed: ['glueups', 'glueup', 'gluing'], families: [] },
    operations: ['glue-up', 'gluing'],
  },
  {
    ...{ id: 'finishing', name: 'Finishing', typed: ['finishing', 'finish', 'coats'], families: [] },
    operations: ['coat', 'rubbing-out'],
  },
]

function machine(id: string, name: string, typed: readonly string[], families: readonly string[]): WorkKind {
  return { id, name, typed: [bare(id), bare(name), ...typed], families, operations: [] }
}

type Worked = Pick<BookStep, 'operation' | 'setUp'>

function isOf({ families, operations }: WorkKind, { operation, setUp }: Worked): boolean {
  const kind = operationKind(operation)
  return (setUp !== null && families.includes(setUp.family)) || (kind !== null && operations.includes(kind))
}

/** Machines that a step is done on and that the shop counts as a station, one job at a time. */
export const machineFor = (step: Worked, { machines }: Pick<Almanac, 'machines'>): WorkKind | null =>
  MACHINES.find((each) => machines.includes(each.id) && isOf(each, step)) ?? null

export const machineStation = (id: string): string => `machine:${id}`

/** Nobody said which machine a step of the maker's own is done on: it is left to those who do all of them. */
const mayBeOn = (kind: WorkKind, { operation, setUp }: Worked): boolean =>
  operation === 'by-machine' && setUp === null && MACHINES.includes(kind)

/**
 * Makers who may do a step; null: anyone. Where it takes more hands than there are such makers, somebody who may not lends a hand to
 * those who may, so anyone is asked.
 */
export function ableFor(
  step: Worked & Pick<BookStep, 'hands'>,
  { makers, leftToOthers }: Pick<Almanac, 'makers' | 'leftToOthers'>,
): readonly string[] | null {
  const kinds = WORK_KINDS.filter((each) => isOf(each, step) || mayBeOn(each, step)).map(({ id }) => id)
  const able = makers.filter(({ id }) => !(leftToOthers[id] ?? []).some((kind) => kinds.includes(kind)))
  return able.length === makers.length || able.length < Math.max(1, step.hands) ? null : able.map(({ id }) => id)
}

/** Kinds of work as they are typed with commas between; nothing typed: none. Somebody has to be left for each. */
export function readLeftToOthers(text: string, makerId: string, almanac: Almanac): Result<readonly string[]> {
  const left: string[] = []
  for (const part of text.split(/[,;]/)) {
    const typed = bare(part)
    if (typed === '') continue
    const kind = WORK_KINDS.find((each) => each.typed.includes(typed))
    if (kind === undefined) {
      const known = WORK_KINDS.map(({ name }) => name.toLowerCase()).join(', ')
      return failed(problem('work', `“${part.trim()}”: type any of ${known}.`))
    }
    const others = almanac.makers.filter(({ id }) => id !== makerId)
    if (others.every(({ id }) => (almanac.leftToOthers[id] ?? []).includes(kind.id)))
      return failed(
        problem('nobody', `Then nobody does it: ${kind.name.toLowerCase()}. Leave it to at least one person.`),
      )
    if (!left.includes(kind.id)) left.push(kind.id)
  }
  return ok(left)
}

/** As it is typed back. */
export const writeLeftToOthers = (kinds: readonly string[]): string =>
  WORK_KINDS.filter(({ id }) => kinds.includes(id))
    .map(({ name }) => name.toLowerCase())
    .join(', ')

function bare(text: string): string {
  return text.toLowerCase().replace(/[^a-z]/g, '')
}
