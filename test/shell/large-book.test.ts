import { once } from 'node:events'
import { join } from 'node:path'
import type { ElectronApplication } from 'playwright-core'
import { expect } from 'vitest'
import { listBackups } from '../../db/backup.ts'
import { keepPhoto } from '../../db/photos.ts'
import { valueOf } from '../app/support/small-order.ts'
import { openShop, START_MS } from '../db/support/shop-files.ts'
import { overwrite, pageOf } from '../db/support/spoil-page.ts'
import { test } from '../support/app.ts'

/** Nine megabytes in the shop's file. */
async function makeLarge(dataFolder: string): Promise<void> {
  const file = await openShop(join(dataFolder, 'shop.sqlite'))
  const bytes = Buffer.alloc(9_000_000, 7)
  await keepPhoto(file.db, { kind: 'new', id: 'photo', mediaType: 'image/jpeg', bytes }, START_MS)
  await file.close()
}

/** From now on, the names of the processes that the app begins: one may have ended again before anybody looks. */
async function processesBegun(electron: ElectronApplication): Promise<() => Promise<string[]>> {
  await electron.evaluate(({ utilityProcess }) => {
    const begun: string[] = ((globalThis as unknown as { begun: string[] }).begun = [])
    const fork = utilityProcess.fork.bind(utilityProcess)
    utilityProcess.fork = (...how) => {
      begun.push(how[2]?.serviceName ?? '')
      return fork(...how)
    }
  })
  return () => electron.evaluate(() => (globalThis as unknown as { begun: string[] }).begun)
}

const isChecking = (electron: ElectronApplication): Promise<boolean> =>
  electron.evaluate(({ app }) => app.getAppMetrics().some(({ name }) => name === 'Out of Clamps check'))

test('a large book is looked through in a process of the app’s own: a backup is made, and the app closes as ever', async ({
  openWindow,
  dataFolder,
}) => {
  await makeLarge(dataFolder)
  const { electron, desk } = await openWindow({ dataFolder, tray: 'never' })
  const begun = await processesBegun(electron)
  valueOf(await desk.backupNow())
  expect(await begun()).toContain('Out of Clamps check')
  await expect.poll(() => isChecking(electron)).toBe(false)
  expect(listBackups(join(dataFolder, 'shop.sqlite'))[0]).toMatchObject({ reason: 'by-hand', found: { kind: 'sound' } })
  const end = once(electron.process(), 'exit')
  await electron.evaluate(({ app }) => app.quit())
  expect(await end).toEqual([0, null])
})

test('damage that is found while the window shows the book brings the page with the copies', async ({
  openWindow,
  dataFolder,
}) => {
  await makeLarge(dataFolder)
  const path = join(dataFolder, 'shop.sqlite')
  overwrite(path, pageOf(path, 'paper').offset, Buffer.alloc(64, 0xff))
  const { page } = await openWindow({ dataFolder, tray: 'never' })
  await page.getByText('It was closed as soon as that was found').waitFor()
})
