import { expect } from 'vitest'
import type { Page } from 'playwright-core'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder } from './support/small-order.ts'

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
  const asked = await eachGivesWay(page, 'draftQuote', 1)
  await goTo(app, '#/new-order')
  await page.getByText('You can promise').waitFor()
  await page.getByText('over 9 in 10').first().waitFor()
  const times = (kind: string) => asked.filter((how) => how === kind).length
  await expect.poll(() => times('all-offers')).toBeGreaterThanOrEqual(2)
  await page.getByText('Checking what extra hours').waitFor({ state: 'detached' })
  // Once for each answer about dates, which the page asks for anew whenever the desk tells of a change.
  expect(times('all-offers')).toBeLessThanOrEqual(times('dates'))
})

test('a change whose dates gave way to those of another page is compared again, until it is told', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page } = app
  const id = await takeSmallOrder(app)
  const asked = await eachGivesWay(page, 'changeCompare', 3)
  await goTo(app, `#/change/${id}`)
  const promised = page
    .getByRole('table', { name: 'The order now and changed' })
    .getByRole('row', { name: /^Promised/ })
  await promised.waitFor()
  await expect.poll(() => promised.innerText()).toMatch(/in 10.*in 10/s)
  const times = (kind: string) => asked.filter((how) => how === kind).length
  await expect.poll(() => times('odds')).toBeGreaterThanOrEqual(4)
  expect(times('odds')).toBeLessThanOrEqual(times('dates'))
})

/** Each kind of a page's question gives way to another page's the first times: what was asked, as it comes in. */
async function eachGivesWay(page: Page, name: string, times: number): Promise<readonly string[]> {
  const asked: string[] = []
  const how = new RegExp(`"${name}".*"asked":"([a-z-]+)"`, 's')
  await page.route('**/call', async (route) => {
    const kind = how.exec(route.request().postData() ?? '')?.[1]
    if (kind === undefined) return route.continue()
    asked.push(kind)
    if (asked.filter((each) => each === kind).length > times) return route.continue()
    const problems = [{ code: 'superseded', message: 'A newer question has taken the place of this one.' }]
    return route.fulfill({ json: { ok: false, problems } })
  })
  return asked
}
