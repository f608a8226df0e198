/**
 * Checks answers against the instance text alone: reads the formats by itself and shares no code with the planner, so that
 * a mistake there cannot hide here. Every check returns the value that the answer really has, or says what is broken.
 */
export type Verdict = { readonly fine: true; readonly value: number } | { readonly fine: false; readonly fault: string }

const fault = (text: string): Verdict => ({ fine: false, fault: text })

const tableFrom = (text: string, heading: RegExp, skip: number): number[][] => {
  const lines = text.split('\n')
  const at = lines.findIndex((line) => heading.test(line))
  return lines.slice(at + 1 + skip).map((line) => line.trim().split(/\s+/).map(Number))
}

/** A project of the `.sm` format: precedence, resources at every unit of time, whole starts from 0 on. */
export function checkProject(text: string, starts: readonly number[]): Verdict {
  const count = Number(/jobs \(incl\.[^:]*:\s*(\d+)/.exec(text)?.[1])
  const arcs = tableFrom(text, /^PRECEDENCE RELATIONS/, 1).slice(0, count)
  const jobs = tableFrom(text, /^REQUESTS\/DURATIONS/, 2).slice(0, count)
  const available = tableFrom(text, /^RESOURCEAVAILABILITIES/, 1)[0]!
  const badStarts = checkStarts(starts, count)
  if (badStarts) return fault(badStarts)
  for (const [job, , successors, ...list] of arcs) {
    for (const next of list.slice(0, successors)) {
      if (starts[next - 1]! < starts[job! - 1]! + jobs[job! - 1]![2]!)
        return fault(`job ${next} starts before job ${job} is finished`)
    }
  }
  const crowded = checkCapacity(
    starts,
    jobs.map((row) => row[2]!),
    jobs.map((row) => row.slice(3)),
    available,
  )
  if (crowded) return fault(crowded)
  return { fine: true, value: starts[count - 1]! }
}

/** A project of the `.sch` format: every minimum and maximum lag, resources, whole starts from 0 on. */
export function checkLaggedProject(text: string, starts: readonly number[]): Verdict {
  const rows = text.split('\n').filter((line) => line.trim() !== '')
  const count = parseInt(rows[0]!, 10) + 2
  const badStarts = checkStarts(starts, count)
  if (badStarts) return fault(badStarts)
  for (const row of rows.slice(1, count + 1)) {
    const [head, ...brackets] = row.split('[')
    const [from, , , ...targets] = head!.trim().split(/\s+/).map(Number)
    const lags = brackets.map((bracket) => parseInt(bracket, 10))
    if (lags.length !== targets.length) return fault(`node ${from} has ${targets.length} arcs and ${lags.length} lags`)
    for (let arc = 0; arc < targets.length; arc++) {
      if (starts[targets[arc]!]! - starts[from!]! < lags[arc]!)
        return fault(`the lag of ${lags[arc]} from ${from} to ${targets[arc]} is broken`)
    }
  }
  const jobs = rows.slice(count + 1, 2 * count + 1).map((row) => row.trim().split(/\s+/).map(Number))
  const available = rows[2 * count + 1]!.trim().split(/\s+/).map(Number)
  const crowded = checkCapacity(
    starts,
    jobs.map((row) => row[2]!),
    jobs.map((row) => row.slice(3)),
    available,
  )
  if (crowded) return fault(crowded)
  return { fine: true, value: starts[count - 1]! }
}

/** One machine: every job once, none while another runs; the value is the sum of weight x tardiness. */
export function checkOneMachine(text: string, starts: readonly number[]): Verdict {
  const numbers = text.trim().split(/\s+/).map(Number)
  const count = numbers.length / 3
  const badStarts = checkStarts(starts, count)
  if (badStarts) return fault(badStarts)
  const byStart = starts.map((_, job) => job).sort((a, b) => starts[a]! - starts[b]! || numbers[a]! - numbers[b]!)
  let sum = 0
  let busyUntil = 0
  for (const job of byStart) {
    if (starts[job]! < busyUntil) return fault(`job ${job} starts while another is running`)
    busyUntil = starts[job]! + numbers[job]!
    sum += numbers[count + job]! * Math.max(0, busyUntil - numbers[2 * count + job]!)
  }
  return { fine: true, value: sum }
}

/** A job shop: operations of a job in order, one at a time on each machine; the value is the last finish. */
export function checkJobShop(text: string, starts: readonly (readonly number[])[]): Verdict {
  const numbers = text.trim().split(/\s+/).map(Number)
  const [jobs, machines] = [numbers[0]!, numbers[1]!]
  if (starts.length !== jobs) return fault(`${jobs} jobs, but starts for ${starts.length}`)
  const busy = new Map<number, [number, number][]>()
  let last = 0
  for (let job = 0; job < jobs; job++) {
    let ready = 0
    const badStarts = checkStarts(starts[job]!, machines)
    if (badStarts) return fault(`job ${job}: ${badStarts}`)
    for (let place = 0; place < machines; place++) {
      const at = 2 + 2 * (job * machines + place)
      const start = starts[job]![place]!
      if (start < ready) return fault(`operation ${place} of job ${job} starts before the one before it is finished`)
      ready = start + numbers[at + 1]!
      busy.set(numbers[at]!, [...(busy.get(numbers[at]!) ?? []), [start, ready]])
    }
    last = Math.max(last, ready)
  }
  for (const [machine, times] of busy) {
    times.sort((a, b) => a[0] - b[0] || a[1] - b[1])
    for (let index = 1; index < times.length; index++) {
      if (times[index]![0] < times[index - 1]![1]) return fault(`machine ${machine} does two operations at once`)
    }
  }
  return { fine: true, value: last }
}

/** What the starts of a tiny shop are worth: last end, and weighted minutes late. */
export type ShopVerdict =
  | { readonly fine: true; readonly makespan: number; readonly tardiness: number }
  | { readonly fine: false; readonly fault: string }

/** A small shop of the format `shop-tiny/1`: sessions, makers, stations held, lags, releases. */
export function checkTinyShop(text: string, starts: readonly number[]): ShopVerdict {
  const shop = JSON.parse(text)
  const count: number = shop.steps.length
  const badStarts = checkStarts(starts, count)
  if (badStarts) return { fine: false, fault: badStarts }
  const ends: number[] = []
  for (let step = 0; step < count; step++) {
    const { duration, interruptible, release } = shop.steps[step]
    const start = starts[step]!
    if (start < release) return { fine: false, fault: `step ${step} starts before its release` }
    let left = duration
    let end = start
    const sessions = shop.windows.filter(([, to]: [number, number]) => to > start)
    if (left > 0 && !(sessions[0]?.[0] <= start))
      return { fine: false, fault: `step ${step} starts while the shop is closed` }
    for (const [from, to] of sessions) {
      if (left === 0) break
      const worked = Math.min(left, to - Math.max(from, start))
      left -= worked
      end = Math.max(from, start) + worked
      if (left > 0 && !interruptible) return { fine: false, fault: `step ${step} does not fit its session` }
    }
    if (left > 0) return { fine: false, fault: `step ${step} is not finished before the shop closes for good` }
    ends.push(end)
  }
  for (const { from, to, min, max } of shop.lags) {
    const wait = starts[to]! - ends[from]!
    if (wait < min || (max !== null && wait > max))
      return { fine: false, fault: `the lag from ${from} to ${to} is ${wait}` }
  }
  const taken: { what: string; limit: number; from: number; to: number; units: number }[] = []
  for (let step = 0; step < count; step++) {
    taken.push({
      what: 'makers',
      limit: shop.makers,
      from: starts[step]!,
      to: ends[step]!,
      units: shop.steps[step].hands,
    })
    for (const hold of shop.steps[step].holds) {
      const until = {
        end: ends[step]!,
        after: ends[step]! + hold.minutes,
        'start-of': starts[hold.step]!,
        'end-of': ends[hold.step]!,
      }
      const limit = shop.stations.find(({ id }: { id: string }) => id === hold.station).capacity
      taken.push({
        what: hold.station,
        limit,
        from: starts[step]!,
        to: until[hold.until as keyof typeof until],
        units: hold.units,
      })
    }
  }
  for (const { what, limit, from } of taken) {
    const used = taken.filter((other) => other.what === what && other.from <= from && from < other.to)
    if (used.reduce((sum, { units }) => sum + units, 0) > limit)
      return { fine: false, fault: `too few ${what} at ${from}` }
  }
  const tardiness = shop.commissions.reduce(
    (sum: number, { id, due, weight }: { id: string; due: number | null; weight: number }) => {
      const done = Math.max(0, ...ends.filter((_, step) => shop.steps[step].commission === id))
      return sum + (due === null ? 0 : weight * Math.max(0, done - due))
    },
    0,
  )
  return { fine: true, makespan: Math.max(0, ...ends), tardiness }
}

function checkStarts(starts: readonly number[], count: number): string | null {
  if (starts.length !== count) return `${count} starts were expected, there are ${starts.length}`
  const bad = starts.findIndex((start) => !Number.isInteger(start) || start < 0)
  return bad < 0 ? null : `start ${bad} is not a whole number from 0 on`
}

function checkCapacity(
  starts: readonly number[],
  durations: readonly number[],
  needs: readonly (readonly number[])[],
  available: readonly number[],
): string | null {
  const used = available.map(() => new Map<number, number>())
  for (let activity = 0; activity < starts.length; activity++) {
    for (let time = starts[activity]!; time < starts[activity]! + durations[activity]!; time++) {
      for (let resource = 0; resource < available.length; resource++) {
        const sum = (used[resource]!.get(time) ?? 0) + needs[activity]![resource]!
        if (sum > available[resource]!) return `resource ${resource} is overloaded at ${time}`
        used[resource]!.set(time, sum)
      }
    }
  }
  return null
}
