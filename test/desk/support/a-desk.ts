import { ALMANAC_HOME } from '../../../core/almanac/home.ts'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import type { Desk } from '../../../desk/desk.ts'
import type { DeskEvent } from '../../../desk/desk-event.ts'
import type { OpenDoor } from '../../../desk/devices/door.ts'
import { openDesk } from '../../../desk/open-desk.ts'
import type { Client, Reply } from '../../../desk/procedure.ts'
import type { TestProcedures } from '../../../desk/procedures.ts'
import type { SearchBudget } from '../../../desk/planner/search-plan.ts'
import type { Draft, DraftPiece } from '../../../desk/orders/draft.ts'

// A new shop takes its time zone from the computer.
process.env['TZ'] = 'America/Chicago'

/** A Tuesday morning, 9 o'clock in Chicago; the shop opens at 19:00. */
export const tuesdayMorning = '2026-03-03T15:00:00Z'

export interface TestDesk {
  readonly desk: Desk
  readonly folder: string
  readonly events: readonly DeskEvent[]
  /** Calls a procedure that must succeed. */
  readonly ask: Asking
  /** Calls a procedure and gives whatever comes back. */
  readonly call: Client<TestProcedures>
  readonly setClock: (instant: string) => Promise<void>
}

type Asking = {
  readonly [Name in keyof Client<TestProcedures>]: Client<TestProcedures>[Name] extends (
    ...args: infer Args
  ) => Promise<Reply<infer Output>>
    ? (...args: Args) => Promise<Output>
    : never
}

/** Opens a desk over a fresh folder (or a given one) and closes it when the test is over. */
export async function aDesk(
  options: { at?: string; folder?: string; demo?: boolean; search?: SearchBudget; openDoor?: OpenDoor } = {},
): Promise<TestDesk> {
  const folder = options.folder ?? aFolder()
  const opened = await openDesk({
    where: 'a test',
    dataFolder: folder,
    demo: options.demo ?? false,
    forTests: true,
    ...(options.openDoor === undefined ? {} : { openDoor: options.openDoor }),
    ...(options.search === undefined ? {} : { search: options.search }),
    clock: { nowMs: () => Date.parse(options.at ?? tuesdayMorning) },
  })
  if (!opened.ok) throw new Error(opened.problems.map((each) => each.message).join('\n'))
  const desk = opened.value
  const events: DeskEvent[] = []
  desk.onEvent((event) => events.push(event))
  onTestFinished(() => desk.close())
  const call = calling((name, input) => desk.call(name, input)) as Client<TestProcedures>
  const ask = calling(async (name, input) => {
    const reply = await desk.call(name, input)
    if (!reply.ok) throw new Error(`${name}: ${reply.problems.map((each) => each.message).join('\n')}`)
    return reply.value
  }) as Asking
  return { desk, folder, events, ask, call, setClock: async (now) => void (await ask.testSetClock({ now })) }
}

export function aFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'desk-test-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

const calling = (run: (name: string, input: unknown) => Promise<unknown>): object =>
  new Proxy(
    {},
    {
      get:
        (_, name) =>
        (input: unknown = {}) =>
          run(String(name), input),
    },
  )

/** A draft of one order as it comes out of the form. */
export const aDraft = (changes: Partial<Draft> = {}): Draft => ({
  customer: {
    name: 'Ada Quist',
    reach: '555-0100',
    secondReach: 'ada@example.org',
    address: '',
    allergies: '',
    childUnder3: 'not-asked',
  },
  takenWhere: 'fair',
  pieces: [aPiece()],
  neededBy: '',
  neededWhy: '',
  notes: '',
  home: ALMANAC_HOME,
  price: '',
  deposit: '',
  depositHow: '',
  ...changes,
})

export const aPiece = (changes: SpecInput = {}, construction = 'end-grain-board', count = '1'): DraftPiece => ({
  construction,
  input: { ...constructionOf(construction)?.starting('inch'), ...changes },
  count,
})
