import { z } from 'zod'
import { ok } from '../core/problems.ts'
import type { SettableClock } from './clock.ts'
import type { Clock, Notice } from './desk.ts'
import { noInput, proceduresOf } from './procedure.ts'

/** What a procedure works with. */
export interface DeskContext {
  readonly clock: Clock
  readonly demo: boolean
}

/** What the procedures that only tests may call work with besides. */
export interface TestContext extends DeskContext {
  readonly clock: SettableClock
  tellNotice(notice: Notice): void
}

const procedure = proceduresOf<DeskContext>()
const testProcedure = proceduresOf<TestContext>()

/** All that the pages can ask for. */
export const procedures = {
  shopState: procedure(noInput, ({ clock, demo }) => ok({ now: new Date(clock.nowMs()).toISOString(), demo })),
}

export type Procedures = typeof procedures

/** What only a desk opened for tests can be asked besides. */
export const testProcedures = {
  testSetClock: testProcedure(z.strictObject({ now: z.iso.datetime() }), ({ clock }, { now }) => {
    clock.setMs(Date.parse(now))
    return ok(null)
  }),
  testNotice: testProcedure(
    z.strictObject({ id: z.string(), title: z.string(), body: z.string(), opens: z.string() }),
    ({ tellNotice }, notice) => {
      tellNotice(notice)
      return ok(null)
    },
  ),
}

export type TestProcedures = typeof procedures & typeof testProcedures
