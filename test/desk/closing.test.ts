import { expect, onTestFinished, test, vi } from 'vitest'
import { aDesk, aDraft } from './support/a-desk.ts'

/** What is written to the console as a fault until the test ends. */
function faultsTold(): readonly unknown[] {
  const told: unknown[] = []
  const spy = vi.spyOn(console, 'error').mockImplementation((...words) => void told.push(words))
  onTestFinished(() => spy.mockRestore())
  return told
}

test('a copy that is opened while odds are worked out and screens are read waits for both: nothing reads a closed file', async () => {
  const { ask, call } = await aDesk()
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-06-20' })
  const { file } = await ask.backupNow()
  const told = faultsTold()
  for (let round = 0; round < 3; round++) {
    const reading = [
      call.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-07-20' }),
      ...[
        call.tally(),
        call.orderBook(),
        call.bench({ rows: 24 }),
        call.timber({ askedAbout: false, lines: 24 }),
        call.yourTimes(),
      ],
    ]
    expect(await call.openBackup({ file })).toMatchObject({ ok: true })
    for (const reply of await Promise.all(reading))
      if (!reply.ok) expect(reply.problems.map(({ code }) => code)).not.toContain('fault')
    expect((await ask.orderBook()).open).toHaveLength(1)
  }
  expect(told).toEqual([])
})

test('a desk that is closed in the middle of a press keeps it or says so, and tells no fault', async () => {
  const one = await aDesk()
  const told = faultsTold()
  const taking = one.call.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-06-20' })
  await one.desk.close()
  const reply = await taking
  const again = await aDesk({ folder: one.folder })
  expect((await again.ask.orderBook()).open).toHaveLength(reply.ok ? 1 : 0)
  expect(told).toEqual([])
})
