import { once } from 'node:events'
import { readdir } from 'node:fs/promises'
import type { ElectronApplication } from 'playwright-core'
import { describe, expect } from 'vitest'
import { takeSmallOrder, valueOf } from '../app/support/small-order.ts'
import { startElectron, test } from '../support/app.ts'

/** The process that holds the order book, by the name under which the system lists it. */
const deskPid = (electron: ElectronApplication): Promise<number> =>
  electron.evaluate(({ app }) => app.getAppMetrics().find(({ name }) => name === 'Out of Clamps desk')?.pid ?? NaN)

/** What the data folder holds while, or as long as, somebody has the shop open. */
const openMarks = async (folder: string): Promise<string[]> =>
  (await readdir(folder)).filter((file) => file === 'in-use.json' || file.endsWith('-wal'))

/** Notes what a box says instead of showing it, and answers when told to. */
async function boxesOf(electron: ElectronApplication) {
  await electron.evaluate(({ app, dialog }) => {
    const boxes: Boxes = { said: [], relaunched: 0, answer: () => undefined }
    ;(globalThis as unknown as { boxes: Boxes }).boxes = boxes
    dialog.showMessageBox = ((box: Electron.MessageBoxOptions) => {
      boxes.said.push(box.message)
      return new Promise((resolve) => {
        boxes.answer = (button) => resolve({ response: (box.buttons ?? []).indexOf(button), checkboxChecked: false })
      })
    }) as typeof dialog.showMessageBox
    app.relaunch = () => {
      boxes.relaunched += 1
      console.log('relaunched')
    }
  })
  return {
    said: () => electron.evaluate(() => (globalThis as unknown as { boxes: Boxes }).boxes.said),
    answer: (button: string) =>
      electron
        .evaluate((_, button) => (globalThis as unknown as { boxes: Boxes }).boxes.answer(button), button)
        .catch(() => undefined),
  }
}

interface Boxes {
  said: string[]
  relaunched: number
  answer(button: string): void
}

describe('the process of the desk', () => {
  test('is one of its own, so that its work never holds up the window', async ({ window: { electron } }) => {
    const pid = await deskPid(electron)
    expect(pid).toBeGreaterThan(0)
    expect(pid).not.toBe(electron.process().pid)
  })

  test('closes the book before the app ends, also where the terminal tells all processes to', async ({
    dataFolder,
  }) => {
    const app = startElectron(dataFolder, { detached: true })
    await expect.poll(() => openMarks(dataFolder)).toHaveLength(2)
    const end = once(app, 'exit')
    process.kill(-app.pid!, 'SIGINT')
    expect(await end).toEqual([0, null])
    expect(await openMarks(dataFolder)).toEqual([])
  })

  test('that breaks answers what waits and what is asked later, says so, and loses nothing', async ({
    openWindow,
    dataFolder,
  }) => {
    const first = await openWindow({ tray: 'never' })
    const { electron, desk, page } = first
    await takeSmallOrder(first, 'Ada Quist')
    const boxes = await boxesOf(electron)
    const pid = await deskPid(electron)

    // Stopped it hears nothing any more: the call waits until its end.
    process.kill(pid, 'SIGSTOP')
    const waiting = desk.orderBook()
    await page.evaluate(() => undefined)
    process.kill(pid, 'SIGKILL')
    expect(await waiting).toMatchObject({ ok: false, problems: [{ code: 'desk-stopped' }] })
    expect(await desk.orderBook()).toMatchObject({ ok: false, problems: [{ code: 'desk-stopped' }] })
    await page.getByRole('heading', { name: 'The app does not answer' }).waitFor()
    await expect.poll(boxes.said).toEqual([expect.stringMatching(/stopped on an error.*is kept: start the app again/)])

    const end = once(electron.process(), 'exit')
    await boxes.answer('Quit')
    expect(await end).toEqual([0, null])
    const again = await openWindow({ dataFolder, tray: 'never' })
    expect(valueOf(await again.desk.orderBook()).open).toMatchObject([{ customer: 'Ada Quist' }])
  })

  test('that broke is there again once the maker starts the app again', async ({ openWindow }) => {
    const { electron } = await openWindow({ tray: 'never' })
    const boxes = await boxesOf(electron)
    let output = ''
    electron.process().stdout?.on('data', (part: Buffer) => (output += part.toString()))
    process.kill(await deskPid(electron), 'SIGKILL')
    await expect.poll(boxes.said).toHaveLength(1)
    const end = once(electron.process(), 'exit')
    await boxes.answer('Start again')
    expect(await end).toEqual([0, null])
    expect(output).toContain('relaunched')
  })
})
