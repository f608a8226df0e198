import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { expect, test } from 'vitest'
import { aDesk, aDraft } from './support/a-desk.ts'

/** Does to the log what a failing disk would. */
function spoil(folder: string, statement: string): void {
  const file = new SqliteFile(join(folder, 'shop.sqlite'))
  file.pragma('ignore_check_constraints = on')
  file.exec('drop trigger log_keeps_its_entries')
  file.exec(statement)
  file.close()
}

test.each([
  ['cut short', `update log set after = substr(after, 1, 6) where action = 'step-started'`],
  ['changed by a digit', `update log set at_ms = at_ms + 1 where action = 'step-started'`],
])(
  'an entry of the log that is %s is counted as damaged on its order and left out; the rest is shown',
  async (_, statement) => {
    const { ask, folder } = await aDesk()
    const take = async () =>
      (await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })).commissionId
    const [id, other] = [await take(), await take()]
    const { pieces } = await ask.commission({ id })
    await ask.stepStart({ stepId: pieces[0]!.steps[0]!.stepId, anyway: true })
    const before = await ask.commission({ id })
    expect([before.damagedEntries, before.history.length]).toEqual([0, 2])
    spoil(folder, statement)
    const after = await ask.commission({ id })
    expect(after.damagedEntries).toBe(1)
    expect(after.history).toEqual(before.history.slice(1))
    expect(await ask.commission({ id: other })).toMatchObject({ damagedEntries: 0, history: [{ canUndo: true }] })
  },
)
