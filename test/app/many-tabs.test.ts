import { expect } from 'vitest'
import { test } from '../support/app.ts'

test('eight tabs all work, and all hear of a notice', async ({ openApp }) => {
  const { page } = await openApp()
  const address = page.url()
  const tabs = [page]
  for (let at = 1; at < 8; at++) {
    const tab = await page.context().newPage()
    await tab.goto(address)
    tabs.push(tab)
  }
  for (const tab of tabs) await tab.getByRole('navigation', { name: 'Screens' }).waitFor()
  const notice = { id: 'n1', title: 'Clamps can come off', body: 'The walnut panel.', opens: '#/rack' }
  // The stream is taken over from tab to tab: also after the one that held it was closed.
  await tabs.shift()?.close()
  await expect
    .poll(async () => {
      await tabs[0]?.evaluate((told) => {
        const body = JSON.stringify({ name: 'testNotice', input: told })
        return fetch('/call', { method: 'POST', headers: { 'content-type': 'application/json' }, body }).then(
          () => null,
        )
      }, notice)
      return Promise.all(tabs.map((tab) => tab.getByText(notice.title).first().isVisible()))
    })
    .toEqual(tabs.map(() => true))
})
