import { renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { aDesk, aDraft, type TestDesk } from './support/a-desk.ts'

const order = (name: string) => ({
  draft: aDraft({ customer: { ...aDraft().customer, name } }),
  standing: 'asked-about' as const,
  promisedFor: null,
})
const codes = async ({ ask }: TestDesk) => (await ask.shopState()).inTheWay.map(({ code }) => code)
const minutesLater = (minutes: number): string =>
  new Date(Date.parse('2026-03-03T15:00:00Z') + minutes * 60_000).toISOString()

test.skipIf(process.platform === 'win32').each([
  ['deleted', (path: string) => ['', '-wal', '-shm'].forEach((end) => rmSync(path + end, { force: true }))],
  ['moved away', (path: string) => renameSync(path, `${path}.elsewhere`)],
])(
  'a data file that is %s while it is open is told at once, and everything taken before and after is in a backup',
  async (_, spoil) => {
    const shop = await aDesk()
    const { ask, setClock, desk, folder } = shop
    await ask.takeOrder(order('Ada Quist'))
    await setClock(minutesLater(1))
    expect(await codes(shop)).toEqual([])
    spoil(join(folder, 'shop.sqlite'))
    await setClock(minutesLater(2))
    expect(await codes(shop)).toContain('file-moved')
    await ask.takeOrder(order('Bo Kestrel'))
    await setClock(minutesLater(3))
    await desk.close()

    const again = await aDesk({ folder })
    const { trouble } = await again.ask.shopState()
    expect(trouble?.problem.code).toBe('file-gone')
    await again.ask.openBackup({ file: trouble!.backups[0]!.file })
    expect((await again.ask.orderBook()).open.map(({ customer }) => customer).sort()).toEqual([
      'Ada Quist',
      'Bo Kestrel',
    ])
  },
)
