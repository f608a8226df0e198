import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { draftOf } from '../large-book.ts'
import { share, type Trial } from './trial.ts'
import { trialDesk } from './trial-desk.ts'
import { NOW_MS } from './whole-book.ts'

/** What memory may grow by from a quarter of the presses to their end: the log that is read grows a little as well. */
const MOST_GROWTH = 0.2

/** A step is begun and that taken back, over and over: what is held afterwards is what was held before. */
export const flatMemory: Trial = async ({ scale, isOver, folder }) => {
  const presses = share(10_000, scale)
  setFlagsFromString('--expose-gc')
  const collect = runInNewContext('gc') as () => void
  const desk = await trialDesk(folder, () => NOW_MS)
  const ask = async <T>(name: string, input: unknown = {}): Promise<T> => {
    const reply = await desk.call(name, input)
    if (!reply.ok) throw new Error(`${name}: ${reply.problems[0]?.message}`)
    return reply.value as T
  }
  for (let at = 0; at < 8; at++) await ask('takeOrder', { draft: draftOf(at), standing: 'agreed', promisedFor: null })
  interface Next {
    readonly stepId: string
  }
  const { canStart, comingUp } = await ask<{ canStart: Next[]; comingUp: Next[] }>('bench', { rows: 24 })
  const { stepId } = (canStart[0] ?? comingUp[0])!
  const held: number[] = []
  let runs = 0
  for (; runs < presses && !isOver(); runs += 2) {
    if (runs % Math.max(2, 2 * Math.floor(presses / 80)) === 0) held.push(heldAfter(collect))
    const { entryId } = await ask<{ entryId: number }>('stepStart', { stepId, anyway: true })
    await ask('undo', { entryId })
    await ask('bench', { rows: 24 })
  }
  held.push(heldAfter(collect))
  await desk.close()
  const quarter = mean(held.slice(Math.floor(held.length / 4), Math.ceil(held.length / 2)))
  const end = mean(held.slice(Math.ceil((held.length * 3) / 4)))
  return {
    runs,
    said: `second quarter ${megabytes(quarter)}, last quarter ${megabytes(end)} (${(end / quarter).toFixed(2)} x)`,
    broken: end > quarter * (1 + MOST_GROWTH) ? [`grew from ${megabytes(quarter)} to ${megabytes(end)}`] : [],
  }
}

/** Bytes of the heap that are in use, and of what lies outside of it. */
function heldAfter(collect: () => void): number {
  collect()
  const { heapUsed, external } = process.memoryUsage()
  return heapUsed + external
}

const mean = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0) / values.length

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`
