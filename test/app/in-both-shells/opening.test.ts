import { describe, expect } from 'vitest'
import { test } from '../../support/app.ts'

describe('the app as it opens', () => {
  test('opens at the Bench and says nothing on the console', async ({ openApp }) => {
    const { page } = await openApp()
    await expect.poll(() => page.title()).toMatch(/^Bench · /)
    await page.getByRole('main').waitFor()
  })

  test('has the desk tell what time it is by the clock of the tests', async ({ openApp }) => {
    const { desk } = await openApp({ clock: '2026-03-07T15:00:00Z' })
    await desk.testSetClock({ now: '2026-03-09T12:00:00Z' })
    const reply = await desk.testSetClock({ now: '2026-03-09T12:00:00Z' })
    expect(reply).toEqual({ ok: true, value: null })
  })

  test('has no procedures for tests when it was started without the clock of the tests', async ({ openApp }) => {
    const { desk } = await openApp({ clock: null })
    expect(await desk.testSetClock({ now: '2026-03-09T12:00:00Z' })).toMatchObject({
      ok: false,
      problems: [{ code: 'unknown-procedure' }],
    })
  })

  test('tells the page of a notice as it happens', async ({ openApp }) => {
    const { desk, page } = await openApp()
    const notice = {
      id: 'n1',
      title: 'Out of clamps',
      body: 'The walnut panel may come out of the clamps.',
      opens: '#/rack',
    }
    const told = page.evaluate(
      () =>
        new Promise((resolve) => {
          if (window.outOfClamps !== undefined) {
            window.outOfClamps.onEvent((event) => {
              if (event.kind === 'notice') resolve(event)
            })
          } else {
            new EventSource('/events').onmessage = ({ data }) => {
              const event = JSON.parse(String(data)) as { kind: string }
              if (event.kind === 'notice') resolve(event)
            }
          }
        }),
    )
    // The page may listen a moment after it was asked to.
    await expect
      .poll(async () => {
        await desk.testNotice(notice)
        return Promise.race([told, new Promise((resolve) => setTimeout(resolve, 200))])
      })
      .toEqual({ kind: 'notice', notice })
  })
})
