import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

const row = (name: string, minutes: string, kind: string) => ({
  ...{ name, minutes, kind, wait: '', atMost: '', after: '', dusty: false, units: '' },
})

/** An order of a single step. */
const shelf = (name: string, minutes: string, kind = 'hand') =>
  aDraft({ pieces: [aPiece({ title: 'Shelf', rows: [row(name, minutes, kind)] }, 'free-list')] })

test('each line of the Bench has the promise of its order with its chance, and the first says why it comes first', async () => {
  const { ask, desk } = await aDesk()
  await ask.takeOrder({ draft: shelf('Plane it', '40'), standing: 'agreed', promisedFor: '2026-03-10' })
  await expect.poll(async () => (await ask.bench()).canStart[0]?.promise?.outlook.chance ?? null).not.toBeNull()
  const { canStart, whyFirst } = await ask.bench()
  expect(canStart[0]!.promise!.day).toBe('2026-03-10')
  expect(canStart[0]!.promise!.outlook.chance).toBeGreaterThan(0.9)
  expect(whyFirst[0]).toMatch(/^No\. 1 is promised for .*Mar 10.*: nearly certain\.$/)
  expect(whyFirst.at(-1)).toMatch(
    /^First what keeps promises and lets waits use the night, then the orders promised soonest/,
  )
  await desk.close()
})

test('a step in one go that does not fit what is left of the session is not offered, and says so; one that may be paused is', async () => {
  const { ask, setClock } = await aDesk()
  await ask.takeOrder({ draft: shelf('Glue it up', '60', 'glue-up'), standing: 'agreed', promisedFor: '2026-03-10' })
  await ask.takeOrder({ draft: shelf('Carve it', '100'), standing: 'agreed', promisedFor: '2026-03-20' })
  const { session } = await ask.bench()
  expect((await ask.bench()).canStart.map(({ name }) => name)).toEqual(['Glue it up', 'Carve it'])
  const closes = session!.toAt
  await setClock(new Date((closes - 45) * 60_000).toISOString())
  const late = await ask.bench()
  expect(late.canStart.map(({ name }) => name)).toEqual(['Carve it'])
  expect(late.comingUp.find(({ name }) => name === 'Glue it up')?.hindrance).toMatch(/ in one go, only 45 min left\.$/)
})
