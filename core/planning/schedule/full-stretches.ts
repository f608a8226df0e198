/** Lengths of work that are told apart; what is known of one counts for all longer work. */
const LENGTHS = [1, 5, 10, 15, 20, 25, 30, 40, 50, 60, 90, 120, 180]
const LONGEST = LENGTHS[LENGTHS.length - 1]!
/** The longest of LENGTHS that is not above each number of minutes, and the shortest that is not below it. */
const AT_MOST = Uint8Array.from({ length: LONGEST + 1 }, (_, work) =>
  Math.max(
    0,
    LENGTHS.findLastIndex((length) => length <= work),
  ),
)
const AT_LEAST = Uint8Array.from({ length: LONGEST + 1 }, (_, work) => LENGTHS.findIndex((length) => length >= work))

interface Noted {
  readonly list: number
  readonly from: number
  readonly to: number
}

/**
 * Stretches of time in which work of a length cannot start, as found out while places were looked for: the crew is busy,
 * the gap too short, or the air wet for dusty work. As long as work is only added that stays so, and whoever looks next
 * leaps over them; so a long queue is not gone through again for every step.
 */
export class FullStretches {
  readonly #rooms: number
  readonly #lists: (Intervals | undefined)[] = []
  /** Found while a block is placed, and only kept if nothing of that is taken back. */
  #unsettled: Noted[] = []

  constructor(rooms: number) {
    this.#rooms = rooms
  }

  /** The first instant from `at` on that is not known to be full. @param room in which it raises dust; -1: it raises none */
  past(crew: number, room: number, work: number, at: number): number {
    const list = this.#lists[this.#list(crew, room, work > LONGEST ? LENGTHS.length - 1 : AT_MOST[work]!)]
    return list === undefined ? at : list.past(at)
  }

  /** Work of this length, and longer, cannot start within [from, to). */
  note(crew: number, room: number, work: number, from: number, to: number): void {
    if (from >= to || work > LONGEST) return
    this.#unsettled.push({ list: this.#list(crew, room, AT_LEAST[work]!), from, to })
  }

  settle(): void {
    if (this.#unsettled.length === 0) return
    for (const { list, from, to } of this.#unsettled) (this.#lists[list] ??= new Intervals()).add(from, to)
    this.#unsettled.length = 0
  }

  forgetUnsettled(): void {
    this.#unsettled.length = 0
  }

  forget(): void {
    this.#unsettled.length = 0
    this.#lists.length = 0
  }

  #list(crew: number, room: number, length: number): number {
    return (crew * (this.#rooms + 1) + room + 1) * LENGTHS.length + length
  }
}

/** Disjoint intervals in order; those that touch are one. */
class Intervals {
  readonly #from: number[] = []
  readonly #to: number[] = []

  past(instant: number): number {
    const index = this.#lastFrom(instant)
    return index >= 0 && instant < this.#to[index]! ? this.#to[index]! : instant
  }

  add(from: number, to: number): void {
    let first = this.#lastFrom(from)
    if (first < 0 || this.#to[first]! < from) first += 1
    const last = this.#lastFrom(to)
    if (first > last) {
      this.#from.splice(first, 0, from)
      this.#to.splice(first, 0, to)
      return
    }
    this.#from[first] = Math.min(this.#from[first]!, from)
    this.#to[first] = Math.max(this.#to[last]!, to)
    if (first < last) {
      this.#from.splice(first + 1, last - first)
      this.#to.splice(first + 1, last - first)
    }
  }

  /** Index of the last interval that begins at or before the instant. */
  #lastFrom(instant: number): number {
    let low = -1
    let high = this.#from.length
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (this.#from[middle]! <= instant) low = middle
      else high = middle
    }
    return low
  }
}
