/** One event of a record in Chromium's trace format; times are microseconds. */
export interface TraceEvent {
  readonly name: string
  readonly ph: string
  readonly pid: number
  readonly tid: number
  readonly ts: number
  readonly dur?: number
  readonly tdur?: number
  readonly args?: { readonly name?: string }
}

/** What held up one thread during an action. */
export interface HeldUp {
  readonly longestMs: number
  /** The longest by the processor time that the thread itself used: without waiting for other programs. */
  readonly longestCpuMs: number
  /** Tasks longer than a frame of 16 ms, by the processor. */
  readonly aboveFrame: number
  /** What the longest task spent its time with, in milliseconds without what lies within. */
  readonly longestParts: Readonly<Record<string, number>>
}

const FRAME_MS = 16

/** Each time that an action, marked in the page by `begin NAME` and `end NAME`, was done: what held up page and main process. */
export function heldUp(
  events: readonly TraceEvent[],
  action: string,
): readonly { readonly page: HeldUp; readonly main: HeldUp }[] {
  const marks = (word: string) => events.filter(({ name }) => name === `${word} ${action}`).sort((a, b) => a.ts - b.ts)
  const ends = marks('end')
  return marks('begin').flatMap((begin, index) => {
    const end = ends[index]
    if (end === undefined) return []
    const threadIn = (name: string, pid?: number) =>
      events.find(
        (event) => event.args?.name === name && event.name === 'thread_name' && (pid ?? event.pid) === event.pid,
      )
    const page = threadIn('CrRendererMain', begin.pid)
    const main = threadIn('CrBrowserMain')
    if (page === undefined || main === undefined) throw new Error('The record does not name the threads.')
    return [{ page: heldUpOf(page, begin.ts, end.ts), main: heldUpOf(main, begin.ts, end.ts) }]
  })

  function heldUpOf(thread: TraceEvent, from: number, to: number): HeldUp {
    const own = events.filter(
      ({ ph, pid, tid, ts }) => ph === 'X' && pid === thread.pid && tid === thread.tid && ts > from && ts < to,
    )
    const tasks = own.filter(({ name }) => name === 'RunTask' || name === 'ThreadControllerImpl::RunTask')
    const longest = tasks.reduce<TraceEvent | null>(
      (most, one) => ((one.tdur ?? 0) > (most?.tdur ?? 0) ? one : most),
      null,
    )
    return {
      longestMs: Math.max(0, ...tasks.map(({ dur = 0 }) => dur / 1000)),
      longestCpuMs: Math.max(0, ...tasks.map(({ tdur = 0 }) => tdur / 1000)),
      aboveFrame: new Set(tasks.filter(({ tdur = 0 }) => tdur / 1000 > FRAME_MS).map(({ ts }) => Math.round(ts / 1000)))
        .size,
      longestParts: longest === null ? {} : partsOf(longest, own),
    }
  }
}

function partsOf(task: TraceEvent, events: readonly TraceEvent[]): Record<string, number> {
  const end = task.ts + (task.dur ?? 0)
  const within = events
    .filter((event) => event.ts >= task.ts && event.ts + (event.dur ?? 0) <= end)
    .sort((a, b) => a.ts - b.ts || (b.dur ?? 0) - (a.dur ?? 0))
  const parts: Record<string, number> = {}
  const open: TraceEvent[] = []
  for (const event of within) {
    while (open.length > 0 && event.ts >= open.at(-1)!.ts + (open.at(-1)!.dur ?? 0)) open.pop()
    const around = open.at(-1)
    if (around !== undefined) parts[around.name] = (parts[around.name] ?? 0) - (event.dur ?? 0) / 1000
    parts[event.name] = (parts[event.name] ?? 0) + (event.dur ?? 0) / 1000
    open.push(event)
  }
  return Object.fromEntries(
    Object.entries(parts)
      .filter(([, ms]) => ms > 0.5)
      .sort(([, a], [, b]) => b - a)
      .map(([name, ms]) => [name, Math.round(ms * 10) / 10]),
  )
}
