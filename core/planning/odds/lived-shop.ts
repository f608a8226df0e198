import { AirInRooms } from './air-in-rooms.ts'
import { waitsOf, type Course } from './course.ts'
import type { Draws } from './draws.ts'
import { Hands } from './hands.ts'
import { OpenSteps } from './open-steps.ts'
import { DONE, TO_DO, UNTIL_END_OF, UNTIL_START_OF } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import { cureOver } from '../rules/cure-time.ts'
import { closesAt } from '../rules/windows.ts'
import { StationsInUse } from './stations-in-use.ts'
import { canMeetWindows } from './windows-ahead.ts'

const DAY = 1440
/** A step that opens a window waits this long for a start from which the window can be met; then it starts all the same. */
const PATIENCE = 14 * DAY
/** So many sessions in which nothing can be started, and room is made for what waits for a station. */
const MOST_IDLE = 60

/**
 * A shop that follows a plan's list through time. At each moment whoever is free takes the first step of the list that can be
 * started: what leads to it is done and its waits are over, its stations have room, the air is clean, it fits what is left of
 * the session as far as anybody knows, and the windows that it opens can be met. How long it really took is known only when it
 * is over (a non-anticipative policy).
 */
export class LivedShop {
  readonly missed: Int32Array
  readonly #course: Course
  readonly #draws: Draws
  readonly #waits: readonly (Int32Array | null)[]
  /** 1 for each replication in which a step's glue-up fails, or its piece cracks; null: it cannot. */
  readonly #fails: readonly (Uint8Array | null)[]
  readonly #cracks: readonly (Uint8Array | null)[]
  /** Minutes of each step by each maker, in each replication: drawn when first asked for. */
  readonly #minutes: (Int32Array | undefined)[] = []
  readonly #hands: Hands
  readonly #stations: StationsInUse
  readonly #waitingFor: Int32Array
  readonly #readyAt: Int32Array
  readonly #end: Int32Array
  /** 0; 1 after a failed glue-up, 2 after a crack. */
  readonly #mishap: Uint8Array
  readonly #air: AirInRooms
  readonly #open: OpenSteps
  readonly #isMilestone: Uint8Array
  /** 1 for a step whose window runs: it goes before the list. */
  readonly #isUrgent: Uint8Array
  readonly #done: Int32Array
  /** 1 for each step of a commission that is asked about; how many of them are left, at first and now. */
  readonly #isAsked: Uint8Array
  readonly #askedAtFirst: number
  #askedLeft = 0
  #run = 0
  /** False while what has started is taken into account: what is ready is put into the list together. */
  #isUnderWay = false

  /** @param asked positions of commissions: a replication is over when all that is left of these is done */
  constructor(course: Course, draws: Draws, asked: Iterable<number>) {
    const { stepCount, commissionCount, commission, state, problem } = course.compiled
    this.#course = course
    this.#draws = draws
    this.#waits = waitsOf(course, draws)
    const mishaps = (what: 'glueUp' | 'crack') =>
      problem.steps.map((each, step) => (course[what].mayHappen[step] === 1 ? draws.mishapsOf(what, each) : null))
    this.#fails = mishaps('glueUp')
    this.#cracks = mishaps('crack')
    this.#hands = new Hands(course, draws)
    this.#stations = new StationsInUse(course.compiled, course.facts)
    this.missed = new Int32Array(commissionCount)
    this.#waitingFor = new Int32Array(stepCount)
    this.#readyAt = new Int32Array(stepCount)
    this.#end = new Int32Array(stepCount)
    this.#mishap = new Uint8Array(stepCount)
    this.#isUrgent = new Uint8Array(stepCount)
    this.#air = new AirInRooms(course.compiled)
    this.#done = new Int32Array(commissionCount)
    this.#isMilestone = Uint8Array.from(course.crewsInTurn, (crews) => (crews.length === 0 ? 1 : 0))
    this.#open = new OpenSteps(course.rank, this.#isMilestone)
    const wanted = new Set(asked)
    this.#isAsked = Uint8Array.from(state, (of, step) => (of !== DONE && wanted.has(commission[step]!) ? 1 : 0))
    this.#askedAtFirst = this.#isAsked.reduce((sum, each) => sum + each, 0)
  }

  /** @returns when each commission that is asked about is done; overwritten by the next call */
  live(run: number): Int32Array {
    this.#begin(run)
    const open = this.#open
    let { now } = this.#course.compiled
    let idle = 0
    while (this.#askedLeft > 0 && open.count > 0) {
      this.#stations.giveBack(now)
      open.release(now)
      if (this.#startSomething(now, idle > MOST_IDLE)) {
        idle = 0
        continue
      }
      const next = this.#nextEvent(now)
      if (next >= NEVER) break
      now = next
      idle += 1
    }
    // Hours have run out: what is left is not done before the last of them.
    if (this.#askedLeft > 0)
      for (const step of open) this.#note(step, Math.max(this.#hands.lastClosing, this.#readyAt[step]!))
    return this.#done
  }

  #begin(run: number): void {
    const { compiled, facts, waitingFor, order, inProgress } = this.#course
    const { state, earliest, now, stepCount } = compiled
    this.#run = run
    this.#waitingFor.set(waitingFor)
    this.#readyAt.set(earliest)
    this.#end.set(facts.end)
    this.#mishap.fill(0)
    this.#isUrgent.fill(0)
    this.#air.reset()
    this.#done.fill(now)
    this.#hands.reset(run)
    this.#stations.reset()
    this.#open.clear()
    this.#askedLeft = this.#askedAtFirst
    this.#isUnderWay = false
    for (let step = 0; step < stepCount; step++) if (state[step] === DONE) this.#pass(step, facts.end[step]!, false)
    for (const step of inProgress) this.#goOnWith(step)
    for (const step of order) if (this.#waitingFor[step] === 0) this.#putIn(step)
    this.#isUnderWay = true
  }

  /** What is in progress goes on at once or at the next opening, whether it fits or not. */
  #goOnWith(step: number): void {
    const { compiled, facts } = this.#course
    const { now, interruptible } = compiled
    const makers = facts.running.get(step)?.makers ?? []
    const at = Math.max(now, this.#hands.freeFrom(makers))
    const minutes = this.#minutesOf(step, makers[0], 0)
    const mayStop = interruptible[step] === 1
    const end = makers.length === 0 ? at + minutes : this.#hands.endOfWork(makers, at, minutes, mayStop, 0)
    this.#hands.engage(step, makers, end)
    this.#stations.give(step, UNTIL_START_OF, now)
    this.#stations.take(step, end)
    this.#air.raiseDust(step, end)
    this.#pass(step, end, true)
  }

  /** Starts the first step of the list that can be. False: none can. */
  #startSomething(now: number, makesRoom: boolean): boolean {
    const open = this.#open
    // A milestone needs nobody.
    if (open.readyMilestones === 0 && !this.#hands.isAnybodyIdle(now)) return false
    for (let index = 0; index < open.readyCount; index++) {
      const step = open.ready[index]!
      if (!makesRoom && this.#mishap[step] === 0 && !this.#stations.hasRoomFor(step)) continue
      if (this.#isMilestone[step] === 1) {
        open.takeReady(index)
        this.#passMilestone(step)
        return true
      }
      if (!this.#air.isFitFor(step, now)) continue
      const crew = this.#hands.crewFor(step, now)
      if (crew < 0 || !this.#canMeetItsWindows(step, now)) continue
      open.takeReady(index)
      this.#work(step, crew, now)
      return true
    }
    return false
  }

  #canMeetItsWindows(step: number, now: number): boolean {
    const { opensWindow, expected } = this.#course
    if (opensWindow[step] === 0 || now > this.#readyAt[step]! + PATIENCE) return true
    return canMeetWindows(this.#course, step, now + expected[step]!)
  }

  #work(step: number, crew: number, now: number): void {
    const { compiled, glueUp, crack } = this.#course
    const { makers } = compiled.crews[crew]!
    const mishap = this.#mishap[step]!
    const drawn = this.#minutesOf(step, makers[0], mishap)
    const own = mishap === 0 ? drawn : Math.round(drawn * (mishap === 1 ? glueUp : crack).times[step]!)
    const minutes = own + this.#hands.setUpOf(step, makers, now) + this.#remedies(step, now)
    const mayStop = compiled.interruptible[step] === 1
    const end = this.#hands.endOfWork(makers, now, minutes, mayStop, compiled.smallest[step]!)
    this.#hands.engage(step, makers, end)
    if (mishap === 0) {
      this.#stations.give(step, UNTIL_START_OF, now)
      this.#stations.take(step, end)
    }
    this.#air.raiseDust(step, end)
    this.#pass(step, end, true)
  }

  #minutesOf(step: number, maker: number | undefined, mishap: number): number {
    const { problem } = this.#course.compiled
    if (mishap > 0 || maker === undefined)
      return this.#draws.minutes(problem.steps[step]!, this.#hands.nameOf(maker), mishap)[this.#run]!
    const key = step * problem.makers.length + maker
    const drawn = (this.#minutes[key] ??= this.#draws.minutes(problem.steps[step]!, this.#hands.nameOf(maker)))
    return drawn[this.#run]!
  }

  #passMilestone(step: number): void {
    const at = this.#readyAt[step]!
    this.#remedies(step, at)
    this.#stations.give(step, UNTIL_START_OF, at)
    this.#stations.take(step, at)
    this.#pass(step, at, false)
  }

  /** Minutes that missed windows put in front of a step that starts now. */
  #remedies(step: number, now: number): number {
    if (this.#isUrgent[step] === 0) return 0
    const { compiled } = this.#course
    const { lagsInto, lagMax, lagFrom, lagRemedy, commission } = compiled
    let minutes = 0
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      if (lagMax[lag] === NEVER || now <= closesAt(compiled, lag, this.#end[lagFrom[lag]!]!)) continue
      this.missed[commission[step]!]! += 1
      minutes += Math.max(0, lagRemedy[lag]!)
    }
    return minutes
  }

  /** A step is over, and what follows it may come; or it went wrong and is done again. */
  #pass(step: number, end: number, mayGoWrong: boolean): void {
    this.#end[step] = end
    if (mayGoWrong && this.#mishap[step] === 0 && this.#goesWrong(step, end)) return
    const { compiled } = this.#course
    this.#air.leaveTacky(step, end)
    const isFact = compiled.state[step] === DONE
    if (!isFact) {
      this.#stations.give(step, UNTIL_END_OF, end)
      this.#note(step, end)
      this.#askedLeft -= this.#isAsked[step]!
    }
    const { lagsOutOf, lagTo, lagMax, state } = compiled
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      const next = lagTo[lag]!
      if (state[next] !== TO_DO) continue
      this.#readyAt[next] = Math.max(this.#readyAt[next]!, this.#overAt(lag, end))
      if (lagMax[lag]! < NEVER) this.#isUrgent[next] = 1
      if (isFact) continue
      this.#waitingFor[next]! -= 1
      if (this.#waitingFor[next] === 0 && this.#isUnderWay) this.#putIn(next)
    }
  }

  /** A glue-up that failed or a piece that cracked is put in once more. */
  #goesWrong(step: number, end: number): boolean {
    const fails = this.#fails[step]?.[this.#run] === 1
    if (!fails && this.#cracks[step]?.[this.#run] !== 1) return false
    const { glueUp, crack } = this.#course
    this.#mishap[step] = fails ? 1 : 2
    this.#readyAt[step] = end + (fails ? glueUp : crack).wait[step]!
    this.#putIn(step)
    return true
  }

  #overAt(lag: number, end: number): number {
    const { lagMin, lagClock, clocks } = this.#course.compiled
    const minutes = this.#waits[lag]?.[this.#run] ?? lagMin[lag]!
    const clock = lagClock[lag]!
    return clock < 0 ? end + minutes : cureOver(clocks[clock]!, end, minutes)
  }

  #note(step: number, end: number): void {
    const commission = this.#course.compiled.commission[step]!
    if (end > this.#done[commission]!) this.#done[commission] = end
  }

  #putIn(step: number): void {
    this.#open.put(step, this.#readyAt[step]!, this.#isUrgent[step] === 1)
  }

  /** The next instant at which something may have become possible; NEVER: nothing will. */
  #nextEvent(now: number): number {
    const hands = this.#hands.nextAfter(now)
    if (!this.#hands.isAnybodyIdle(now)) return Math.min(hands, this.#open.nextMilestone())
    return this.#air.nextAfter(now, Math.min(hands, this.#open.nextReady(), this.#stations.nextAfter(now)))
  }
}
