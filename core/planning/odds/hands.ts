import type { Course } from './course.ts'
import type { Draws } from './draws.ts'
import { NEVER } from '../problem/instants.ts'
import { commonSessions, sessionAt, type Sessions } from '../schedule/sessions.ts'

/** Who of the makers is there, who is free, and what each has set up, at a moment that moves on. */
export class Hands {
  readonly #course: Course
  readonly #draws: Draws
  /** 1 for each replication in which a maker gets to a session: drawn when first asked for. */
  readonly #evenings: readonly (Uint8Array | undefined)[][]
  readonly #names: readonly string[]
  readonly #freeAt: Int32Array
  readonly #family: Int32Array
  /** The session in which the family was set up: it does not outlive the night. */
  readonly #familySession: Int32Array
  readonly #common = new Map<string, Sessions>()
  /** Instants at which the air begins to allow something to somebody who is in the shop by then, soonest first. */
  readonly #airAllows: Int32Array
  /** Minutes left for each crew at a moment, -1 where nobody asked yet. */
  readonly #left: Int32Array
  #moment = -1
  #run = 0

  constructor(course: Course, draws: Draws) {
    const { makers } = course.compiled.problem
    this.#course = course
    this.#left = new Int32Array(course.compiled.crews.length)
    this.#draws = draws
    this.#evenings = makers.map(() => [])
    this.#names = makers.map(({ id }) => id)
    this.#freeAt = new Int32Array(makers.length)
    this.#family = new Int32Array(makers.length)
    this.#familySession = new Int32Array(makers.length)
    const allowed = course.compiled.crews.filter((crew) => crew.allowed !== null)
    this.#airAllows = Int32Array.from(new Set(allowed.flatMap(({ sessions }) => [...sessions.from]))).sort()
  }

  reset(run: number): void {
    const { compiled, facts } = this.#course
    this.#run = run
    this.#moment = -1
    this.#freeAt.fill(compiled.now)
    this.#family.set(facts.lastFamily)
    facts.lastFamilyEnd.forEach((at, maker) => {
      this.#familySession[maker] = at < 0 ? -1 : sessionAt(compiled.makerSessions[maker]!, at - 1)
    })
  }

  /** When the last hours that anybody has are over. */
  get lastClosing(): number {
    const { makerSessions, now } = this.#course.compiled
    return Math.max(now, ...makerSessions.map(({ to, count }) => to[count - 1] ?? now))
  }

  nameOf(maker: number | undefined): string | undefined {
    return maker === undefined ? undefined : this.#names[maker]
  }

  freeFrom(makers: readonly number[]): number {
    return makers.reduce((latest, maker) => Math.max(latest, this.#freeAt[maker]!), 0)
  }

  /** A crew that is there, free, and has time for the step in what is left of the session; -1: none. */
  crewFor(step: number, now: number): number {
    const { compiled, crewsInTurn, expected } = this.#course
    const { crews, interruptible, smallest } = compiled
    const inTurn = crewsInTurn[step]!
    for (let at = 0; at < inTurn.length; at++) {
      const crew = inTurn[at]!
      const left = this.#leftFor(crew, now)
      if (left <= 0) continue
      const isShort = interruptible[step] === 1
      if (isShort && left >= smallest[step]! && left > 0) return crew
      const { makers, sessions } = crews[crew]!
      const needed = expected[step]! + this.setUpOf(step, makers, now)
      const least = isShort ? Math.min(needed, Math.max(1, smallest[step]!)) : needed
      if (left >= least) return crew
      // What fits no session at all is begun with one.
      const session = sessionAt(sessions, now)
      if (sessions.from[session] === now && sessions.longest[session]! < least) return crew
    }
    return -1
  }

  /** Minutes that a crew has from now to the end of its session; 0 where it is not there or not free. Worked out once a moment. */
  #leftFor(crew: number, now: number): number {
    if (this.#moment !== now) {
      this.#moment = now
      this.#left.fill(-1)
    }
    const known = this.#left[crew]!
    if (known >= 0) return known
    const { makers, sessions } = this.#course.compiled.crews[crew]!
    const session = sessionAt(sessions, now)
    let left = session < sessions.count && sessions.from[session]! <= now ? sessions.to[session]! - now : 0
    for (let at = 0; left > 0 && at < makers.length; at++) {
      const maker = makers[at]!
      if (this.#freeAt[maker]! > now || !this.#isThere(maker, now)) left = 0
    }
    this.#left[crew] = left
    return left
  }

  setUpOf(step: number, makers: readonly number[], now: number): number {
    const { family, setUpMinutes, makerSessions } = this.#course.compiled
    if (family[step]! < 0) return 0
    for (const maker of makers) {
      if (this.#family[maker] !== family[step]) continue
      if (this.#familySession[maker] === sessionAt(makerSessions[maker]!, now)) return 0
    }
    return setUpMinutes[step]!
  }

  /** Busy until then with a step, and nothing else is begun. */
  engage(step: number, makers: readonly number[], end: number): void {
    const { family, makerSessions } = this.#course.compiled
    this.#moment = -1
    for (const maker of makers) {
      this.#freeAt[maker] = end
      if (family[step]! < 0) continue
      this.#family[maker] = family[step]!
      this.#familySession[maker] = sessionAt(makerSessions[maker]!, end - 1)
    }
  }

  /**
   * When work that begins now is over, going on in every session that all of them get to; what may not stop is finished after
   * closing time where it takes longer than was thought.
   */
  endOfWork(makers: readonly number[], now: number, minutes: number, mayStop: boolean, smallest: number): number {
    const { makerSessions } = this.#course.compiled
    const sessions = this.#sessionsOf(makers)
    let left = minutes
    for (let session = sessionAt(sessions, now); session < sessions.count; session++) {
      const from = Math.max(now, sessions.from[session]!)
      const areThere = makers.every((maker) => this.#comesTo(maker, sessionAt(makerSessions[maker]!, from)))
      if (!areThere) continue
      const length = sessions.to[session]! - from
      if (!mayStop || length >= left) return from + left
      if (length >= smallest) left -= length
    }
    return Math.max(now, sessions.to[sessions.count - 1] ?? 0) + left
  }

  isAnybodyIdle(now: number): boolean {
    for (let maker = 0; maker < this.#freeAt.length; maker++)
      if (this.#freeAt[maker]! <= now && this.#isThere(maker, now)) return true
    return false
  }

  /**
   * The next instant at which somebody is done with something or comes to a session, or the air begins to allow something. NEVER: nobody
   * comes any more.
   */
  nextAfter(now: number): number {
    const { makerSessions } = this.#course.compiled
    let next = this.#airAllowsAfter(now)
    for (let maker = 0; maker < this.#freeAt.length; maker++) {
      const sessions = makerSessions[maker]!
      const free = Math.max(now, this.#freeAt[maker]!)
      if (free > now && free < next && this.#isThere(maker, free)) next = free
      let session = sessionAt(sessions, free)
      if (session < sessions.count && sessions.from[session]! <= free) session += 1
      while (session < sessions.count && sessions.from[session]! < next && !this.#comesTo(maker, session)) session += 1
      if (session < sessions.count && sessions.from[session]! < next) next = sessions.from[session]!
    }
    return next
  }

  #airAllowsAfter(now: number): number {
    const allows = this.#airAllows
    let low = 0
    for (let high = allows.length; low < high;) {
      const middle = (low + high) >> 1
      if (allows[middle]! <= now) low = middle + 1
      else high = middle
    }
    return allows[low] ?? NEVER
  }

  #isThere(maker: number, at: number): boolean {
    const sessions = this.#course.compiled.makerSessions[maker]!
    const session = sessionAt(sessions, at)
    return session < sessions.count && sessions.from[session]! <= at && this.#comesTo(maker, session)
  }

  /** To the session that runs now everybody got. */
  #comesTo(maker: number, session: number): boolean {
    const { makerSessions, now } = this.#course.compiled
    const opens = makerSessions[maker]!.from[session]!
    if (opens <= now) return true
    const evening = (this.#evenings[maker]![session] ??= this.#draws.evening(this.#names[maker]!, opens))
    return evening[this.#run] === 1
  }

  #sessionsOf(makers: readonly number[]): Sessions {
    const { makerSessions } = this.#course.compiled
    if (makers.length === 1) return makerSessions[makers[0]!]!
    const key = makers.join(' ')
    const known = this.#common.get(key)
    if (known !== undefined) return known
    const common = commonSessions(makers.map((maker) => makerSessions[maker]!))
    this.#common.set(key, common)
    return common
  }
}
