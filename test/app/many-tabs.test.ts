import { expect } from 'vitest'
import { test } from '../support/app.ts'
import { goTo } from './support/small-order.ts'

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

test('a page whose question about dates gave way to one of another page asks again, until it has its answer', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page } = app
  const asked: string[] = []
  await page.route('**/call', async (route) => {
    const how = /"draftQuote".*"asked":"([a-z-]+)"/.exec(route.request().postData() ?? '')?.[1]
    if (how === undefined) return route.continue()
    asked.push(how)
    if (asked.filter((each) => each === how).length > 1) return route.continue()
    const problems = [{ code: 'superseded', message: 'A newer question has taken the place of this one.' }]
    return route.fulfill({ json: { ok: false, problems } })
  })
  await goTo(app, '#/new-order')
  await page.getByText('You can promise').waitFor()
  await page.getByText('19 in 20').first().waitFor()
  await expect.poll(() => asked.filter((how) => how === 'all-offers').length).toBe(2)
  await page.getByText('Checking what extra hours').waitFor({ state: 'detached' })
})
