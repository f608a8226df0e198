import { z } from 'zod'
import { type Result, ok } from '../core/problems.ts'
import { aboutView } from './about.ts'
import { screensProcedures } from './screens/procedures.ts'
import { plannerProcedures } from './planner/procedures.ts'
import { ordersProcedures } from './orders/procedures.ts'
import { stepsProcedures } from './steps/procedures.ts'
import { lumberProcedures } from './lumber/procedures.ts'
import { papersProcedures } from './papers/procedures.ts'
import { moneyProcedures } from './money/procedures.ts'
import { almanacProcedures } from './almanac/procedures.ts'
import { learningProcedures } from './learning/procedures.ts'
import { yearProcedures } from './year/procedures.ts'
import { calendarAddressProcedures } from './calendar-address/procedures.ts'
import { peopleProcedures } from './people/procedures.ts'
import { openFormatsProcedures } from './open-formats/procedures.ts'
import { copiesProcedures } from './copies/procedures.ts'
import { devicesProcedures } from './devices/procedures.ts'
import { inShop, procedure, type TestContext } from './in-shop.ts'
import { noInput, proceduresOf } from './procedure.ts'
import type { BackupRow } from './safekeeping.ts'

/** All that the pages can ask for, a table a use case. */
export const procedures = {
  ...screensProcedures,
  ...plannerProcedures,
  ...ordersProcedures,
  ...stepsProcedures,
  ...lumberProcedures,
  ...papersProcedures,
  ...moneyProcedures,
  ...almanacProcedures,
  ...learningProcedures,
  ...yearProcedures,
  ...peopleProcedures,
  ...openFormatsProcedures,
  ...copiesProcedures,
  ...calendarAddressProcedures,
  ...devicesProcedures,
  shopState: procedure(noInput, async (context) => ok(await context.shopState())),
  /** Answers once the plan and what is shown follow from everything that was kept. */
  caughtUp: inShop(noInput, () => ok(null)),
  about: procedure(noInput, (context) => ok(aboutView(context.dataFolder))),
  backups: procedure(noInput, (context): Result<readonly BackupRow[]> => ok(context.safekeeping.list())),
  backupNow: procedure(noInput, (context): Promise<Result<BackupRow>> => context.safekeeping.make()),
  openBackup: procedure(z.strictObject({ file: z.string().max(200) }), (context, { file }) =>
    context.safekeeping.open(file),
  ),
  backupLacks: procedure(z.strictObject({ file: z.string().max(200) }), (context, { file }) =>
    context.safekeeping.lackingIn(file),
  ),
  openAgain: procedure(noInput, (context) => context.safekeeping.tryAgain()),
  beginAnew: procedure(noInput, (context) => context.safekeeping.beginAnew()),
  showDataFolder: procedure(noInput, (context) => context.safekeeping.showFolder()),
}

export type Procedures = typeof procedures

const testProcedure = proceduresOf<TestContext>()

/** What only a desk opened for tests can be asked besides. */
export const testProcedures = {
  testSetClock: testProcedure(z.strictObject({ now: z.iso.datetime({ offset: true }) }), async (context, { now }) => {
    context.clock.setMs(Date.parse(now))
    await context.tick()
    return ok(null)
  }),
  testNotice: testProcedure(
    z.strictObject({ id: z.string(), title: z.string(), body: z.string(), opens: z.string() }),
    (context, notice) => {
      context.tellNotice(notice)
      return ok(null)
    },
  ),
}

export type TestProcedures = typeof procedures & typeof testProcedures
