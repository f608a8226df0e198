import type { Blocks } from '../schedule/blocks.ts'
import { DONE, TO_DO, type Compiled } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import type { Plan } from '../problem/model.ts'
import { closesAt } from '../rules/windows.ts'

/**
 * Orders of blocks to begin with. What must not wait (windows that something finished has opened, days that the maker
 * wants) comes first; then commission by commission, each with its steps in their own order.
 * @param patience how far ahead a promise is felt, in multiples of the mean work of a commission (the look-ahead of the
 * apparent tardiness cost rule)
 */
export function orderByPromises(compiled: Compiled, blocks: Blocks, patience: number): number[] {
  return [
    ...urgentBlocks(compiled, blocks),
    ...blocksByCommission(compiled, blocks, commissionsByPromise(compiled, patience)),
  ]
}

/** The blocks of the commissions in this order; a block that two commissions share goes with the first. May name a block twice. */
export function blocksByCommission(compiled: Compiled, blocks: Blocks, commissions: readonly number[]): number[] {
  const { stepsOfCommission, state } = compiled
  const order: number[] = []
  const seen = new Uint8Array(blocks.steps.length)
  for (const commission of commissions) {
    const own: number[] = []
    for (let at = stepsOfCommission.from[commission]!; at < stepsOfCommission.from[commission + 1]!; at++) {
      const step = stepsOfCommission.items[at]!
      const block = blocks.of[step]!
      if (state[step] !== TO_DO || seen[block] === 1) continue
      seen[block] = 1
      own.push(block)
    }
    own.sort((a, b) => a - b)
    order.push(...own)
  }
  return order
}

/** Blocks in the order in which a plan starts them; what the plan does not know comes last. */
export function orderByStart({ indexOfStep }: Compiled, blocks: Blocks, plan: Plan): number[] {
  const start = new Float64Array(blocks.steps.length).fill(Infinity)
  for (const planned of plan.steps) {
    const block = blocks.of[indexOfStep.get(planned.id) ?? -1] ?? -1
    if (block >= 0) start[block] = Math.min(start[block]!, planned.start)
  }
  const later = (a: number, b: number): number => (a === b ? 0 : a - b)
  return [...start.keys()].sort((a, b) => later(start[a]!, start[b]!) || a - b)
}

/** Blocks with an instant by which they must start that nothing planned can move, soonest first. */
export function urgentBlocks(compiled: Compiled, blocks: Blocks): number[] {
  const { lagFrom, lagTo, lagMax, lagCount, state, pinnedTo, stepCount, problem } = compiled
  const deadline = new Map<number, number>()
  const note = (step: number, at: number): void => {
    const block = blocks.of[step]!
    deadline.set(block, Math.min(deadline.get(block) ?? NEVER, at))
  }
  for (let lag = 0; lag < lagCount; lag++) {
    const reality = problem.steps[lagFrom[lag]!]!.state
    if (lagMax[lag] === NEVER || state[lagTo[lag]!] !== TO_DO || reality.kind === 'to-do') continue
    const end = state[lagFrom[lag]!] === DONE && reality.kind === 'done' ? reality.endedAt : compiled.now
    note(lagTo[lag]!, closesAt(compiled, lag, end))
  }
  for (let step = 0; step < stepCount; step++)
    if (state[step] === TO_DO && pinnedTo[step]! < NEVER) note(step, pinnedTo[step]!)
  return [...deadline].sort(([a, x], [b, y]) => x - y || a - b).map(([block]) => block)
}

/** Commissions by apparent tardiness cost: weight over work left, damped by slack; those without a promise by weight over work alone. */
export function commissionsByPromise(compiled: Compiled, patience: number): number[] {
  const { commissionCount, promise, weight, now } = compiled
  const work = workLeft(compiled)
  const lead = leadTimes(compiled)
  const perMinute = openShare(compiled)
  const open = [...Array(commissionCount).keys()]
  const mean = Math.max(1, open.reduce((sum, each) => sum + work[each]!, 0) / Math.max(1, commissionCount))
  const order: number[] = []
  let clock = 0
  while (open.length > 0) {
    let best = 0
    let bestIndex = -Infinity
    open.forEach((commission, position) => {
      const rate = Math.log(weight[commission]! / Math.max(1, work[commission]!))
      const due = promise[commission]!
      const slack =
        due === NEVER ? UNPROMISED_SLACK * mean * patience : (due - now - lead[commission]!) * perMinute - clock
      const index = rate - Math.max(0, slack) / (patience * mean)
      if (index > bestIndex) {
        bestIndex = index
        best = position
      }
    })
    const [next] = open.splice(best, 1)
    order.push(next!)
    clock += work[next!]!
  }
  return order
}

/** What was not promised gives way until a promise is this many look-aheads off. */
const UNPROMISED_SLACK = 3

function workLeft({ commissionCount, stepCount, commission, state, minutes, problem }: Compiled): Float64Array {
  const work = new Float64Array(commissionCount)
  for (let step = 0; step < stepCount; step++) {
    if (state[step] !== DONE) work[commission[step]!]! += minutes[step]! * Math.max(1, problem.steps[step]!.hands)
  }
  return work
}

/** Elapsed minutes that a commission takes at least, waits and work in a row along its longest chain, hours not looked at. */
export function leadTimes({
  commissionCount,
  stepCount,
  commission,
  state,
  minutes,
  lagsInto,
  lagMin,
  lagsOutOf,
  lagTo,
}: Compiled): Float64Array {
  const tail = new Float64Array(stepCount)
  const waitingFor = new Int32Array(stepCount)
  const ready: number[] = []
  for (let step = 0; step < stepCount; step++) {
    waitingFor[step] = lagsInto.from[step + 1]! - lagsInto.from[step]!
    if (waitingFor[step] === 0) ready.push(step)
  }
  const longest = new Float64Array(commissionCount)
  for (let step = ready.pop(); step !== undefined; step = ready.pop()) {
    const end = tail[step]! + (state[step] === DONE ? 0 : minutes[step]!)
    longest[commission[step]!] = Math.max(longest[commission[step]!]!, end)
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      const to = lagTo[lag]!
      tail[to] = Math.max(tail[to]!, end + (state[to] === DONE ? 0 : Math.max(0, lagMin[lag]!)))
      waitingFor[to]! -= 1
      if (waitingFor[to] === 0) ready.push(to)
    }
  }
  return longest
}

/** Working minutes of all makers per elapsed minute, over the year ahead. */
function openShare({ makerSessions, now }: Compiled): number {
  const year = 365 * 1440
  let open = 0
  for (const { count, from, to } of makerSessions) {
    for (let session = 0; session < count; session++) {
      open += Math.max(0, Math.min(to[session]!, now + year) - Math.max(from[session]!, now))
    }
  }
  return open / year
}
