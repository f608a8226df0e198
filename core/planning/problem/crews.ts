import type { Interval, PlanStep } from './model.ts'
import { sessionsOf, sessionsWithin, type Sessions } from '../schedule/sessions.ts'

/** Makers who do a step together, and when they are all in the shop. */
export interface Crew {
  readonly makers: readonly number[]
  /** When the air allows the steps that ask for this crew; null: at any time. */
  readonly allowed: Sessions | null
  readonly sessions: Sessions
}

/** Combinations of makers that are looked at for a step of several hands; more than that and the later ones are left out. */
const MOST_CREWS = 64

/** The crews of a shop, each once, whoever asks. */
export class CrewList {
  readonly all: Crew[] = []
  readonly #byMakers = new Map<string, number>()
  readonly #byDemand = new Map<string, readonly number[]>()
  /** The same for steps that anybody may do, by hands. */
  readonly #ofAnyone: (readonly number[])[] = []
  readonly #sessions: readonly Sessions[]
  readonly #makers: ReadonlyMap<string, number>
  /** Windows of the air are few and shared by many steps: numbered as they come. */
  readonly #windows = new Map<readonly Interval[], number>()

  constructor(sessions: readonly Sessions[], makers: ReadonlyMap<string, number>) {
    this.#sessions = sessions
    this.#makers = makers
  }

  forStep({ hands, makers, allowed, state }: PlanStep): readonly number[] {
    const needed = Math.max(1, hands)
    const windows = state.kind === 'to-do' ? allowed : undefined
    if (makers === undefined && windows === undefined)
      return (this.#ofAnyone[needed] ??= this.#find(needed, [...this.#sessions.keys()]))
    const demand = `${needed}:${makers?.join('\n') ?? '*'}:${windows === undefined ? '' : this.#numberOf(windows)}`
    const known = this.#byDemand.get(demand)
    if (known !== undefined) return known
    const able = makers?.map((id) => this.#makers.get(id)!) ?? [...this.#sessions.keys()]
    const found = this.#find(needed, able, windows)
    this.#byDemand.set(demand, found)
    return found
  }

  #find(hands: number, able: readonly number[], windows?: readonly Interval[]): readonly number[] {
    const sorted = [...new Set(able)].sort((a, b) => a - b)
    return combinations(sorted, hands, MOST_CREWS).map((crew) => this.#crew(crew, windows))
  }

  #crew(makers: readonly number[], windows?: readonly Interval[]): number {
    const key = `${makers.join(' ')}:${windows === undefined ? '' : this.#numberOf(windows)}`
    const known = this.#byMakers.get(key)
    if (known !== undefined) return known
    const allowed = windows === undefined ? null : sessionsOf(windows)
    const sessions = sessionsWithin(
      makers.map((maker) => this.#sessions[maker]!),
      allowed,
    )
    this.#byMakers.set(key, this.all.length)
    return this.all.push({ makers, allowed, sessions }) - 1
  }

  #numberOf(windows: readonly Interval[]): number {
    const known = this.#windows.get(windows)
    if (known !== undefined) return known
    this.#windows.set(windows, this.#windows.size)
    return this.#windows.size - 1
  }
}

/** Ways to choose `size` of the items, in order, at most `most` of them. */
function combinations(items: readonly number[], size: number, most: number): number[][] {
  const found: number[][] = []
  const choose = (from: number, chosen: readonly number[]): void => {
    if (found.length >= most) return
    if (chosen.length === size) {
      found.push([...chosen])
      return
    }
    for (let next = from; next <= items.length - (size - chosen.length); next++)
      choose(next + 1, [...chosen, items[next]!])
  }
  choose(0, [])
  return found
}
