import { z } from 'zod'
import { failed, ok, problem } from '../../core/problems.ts'
import type { Device } from '../../db/kept-devices.ts'
import { deviceOfEntry, isPressKept, writingFrom } from '../../db/written-from.ts'
import type { DeskContext } from '../in-shop.ts'
import type { Reply } from '../procedure.ts'
import { longestAgoMin } from '../steps/log-step.ts'
import type { ShopState } from '../shop-state.ts'
import type { SentPress } from './door.ts'
import { mayCall } from './rights.ts'
import { withoutMoney } from './without-money.ts'

const WEEK_MS = 7 * 24 * 60 * 60 * 1000

/** How a press is sent; a week is longer than anybody works without a connection. */
const sentPress = z.strictObject({
  key: z.string().regex(/^[\w-]{8,64}$/),
  ageMs: z.number().min(0).max(WEEK_MS),
})

/** Presses that may have waited on the device: the ones that can be told for a time ago. */
const MAY_WAIT: ReadonlySet<string> = new Set(['stepStart', 'stepPause', 'stepDone', 'stepFailed'])

/**
 * Calls of devices: each within the rights of its device, its entries of the log under the device's name, its presses one after
 * the other in the order in which they came, each once.
 */
export class DeviceCalls {
  readonly #context: DeskContext
  readonly #answer: (name: string, input: unknown) => Promise<Reply<unknown>>
  readonly #turns = new Map<string, Promise<unknown>>()

  constructor(context: DeskContext, answer: (name: string, input: unknown) => Promise<Reply<unknown>>) {
    this.#context = context
    this.#answer = answer
  }

  async call(device: Device, name: string, input: unknown, press: SentPress | null): Promise<Reply<unknown>> {
    if (!mayCall(device.right, name)) return failed(notAllowed)
    if (press !== null && (!MAY_WAIT.has(name) || !sentPress.safeParse(press).success)) return failed(badPress)
    const from = { device: device.name, pressKey: press?.key ?? null }
    const run = () => writingFrom(from, () => this.#run(device, name, input, press))
    if (mayCall('see', name)) return run()
    const turn = (this.#turns.get(device.id) ?? Promise.resolve()).then(run)
    this.#turns.set(
      device.id,
      turn.catch(() => undefined),
    )
    return turn
  }

  async #run(device: Device, name: string, input: unknown, press: SentPress | null): Promise<Reply<unknown>> {
    const shop = this.#context.shop()
    if (!shop.ok) return failed(closedAtDesk)
    const { db } = shop.value
    if (press !== null && (await isPressKept(db, { device: device.name, pressKey: press.key })))
      return ok({ said: 'This was kept already.', entryId: null })
    if (name === 'undo' && (await deviceOfEntry(db, entryIdOf(input))) !== device.name) return failed(notYours)
    const reply = await this.#answer(name, press === null ? input : inItsTime(input, press))
    if (!reply.ok) return reply
    return ok(name === 'shopState' ? stateFor(reply.value as ShopState, device) : withoutMoney(name, reply.value))
  }
}

/** Problems of this computer are for the desk to mend, and its folders nobody else's business. */
const stateFor = (state: ShopState, { name, right }: Device): ShopState => ({
  ...state,
  inTheWay: [],
  trouble: null,
  device: { name, right },
})

/** A press that waited is told for the time at which it was pressed. */
function inItsTime(input: unknown, { ageMs }: SentPress): unknown {
  if (typeof input !== 'object' || input === null) return input
  const said = 'minutesAgo' in input && typeof input.minutesAgo === 'number' ? input.minutesAgo : 0
  const minutesAgo = Math.min(longestAgoMin, said + Math.floor(ageMs / 60_000))
  return minutesAgo === 0 ? input : { ...input, minutesAgo }
}

const entryIdOf = (input: unknown): number =>
  typeof input === 'object' && input !== null && 'entryId' in input && typeof input.entryId === 'number'
    ? input.entryId
    : -1

const notAllowed = problem('not-allowed', 'This device may not do that. Do it at the desk.')
const notYours = problem('not-yours', 'This was not done on this device. Undo it at the desk.')
const closedAtDesk = problem('not-open', 'The order book is not open. Look at the desk’s computer.')
const badPress = problem('bad-input', 'This press cannot be sent later. Press again with a connection.')
