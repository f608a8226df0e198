import { describe, expect } from 'vitest'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, valueOf } from './support/small-order.ts'

/** A cherry board on hand: from then on the shop counts its lumber, and has no walnut. The tests begin on Tuesday, March 3, 2026. */
async function listCherry({ desk }: OpenApp): Promise<void> {
  const board = { wood: 'cherry', thickness: '8/4', width: '8', length: '96', flaws: '', quality: '', place: '' }
  valueOf(await desk.boardsAdd({ board: { ...board, price: '', moisture: '' }, count: '1', photo: { kind: 'none' } }))
}

async function saveWalnutDraft({ desk }: OpenApp): Promise<void> {
  const customer = { name: 'Ada Quist', reach: '555-0100', secondReach: '', address: '', allergies: '' }
  const input = { ...constructionOf('edge-grain-board')?.starting('inch'), woodA: 'walnut' }
  valueOf(
    await desk.draftSave({
      draft: {
        customer: { ...customer, childUnder3: 'not-asked' },
        takenWhere: 'fair',
        pieces: [{ construction: 'edge-grain-board', input, count: '1' }],
        ...{ neededBy: '', neededWhy: '', notes: '', price: '', deposit: '', depositHow: '' },
        home: ALMANAC_HOME,
      },
    }),
  )
}

describe('lumber that is not here', () => {
  test('is in the date from the first quote to the day it has come and rested', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await listCherry(app)
    await saveWalnutDraft(app)
    await goTo(app, '#/new-order')
    await page
      .getByRole('complementary', { name: 'Date' })
      .getByText('Lumber: Sat, Mar 7, then 7 days to rest')
      .first()
      .waitFor()
    await page.keyboard.press('Control+Enter')
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()

    const lumber = page.getByRole('region', { name: 'Lumber' })
    await lumber.getByText('Lumber: Sat, Mar 7, then 7 days to rest').waitFor()
    await lumber.getByText('Short of Walnut').waitFor()

    // Nothing to mill on the Bench, and nobody is asked before the day has come.
    await goTo(app, '#/bench')
    await page
      .getByRole('region', { name: /^Next, later/ })
      .getByText('Lumber: Sat, Mar 7')
      .waitFor()
    await expect.poll(() => page.getByRole('region', { name: 'Is the lumber here?' }).count()).toBe(0)
    valueOf(await desk.testSetClock({ now: '2026-03-07T16:00:00Z' }))
    await page.reload()
    const due = page.getByRole('region', { name: 'Is the lumber here?' })
    await due.getByText('Lumber: today, then 7 days to rest').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    await due.getByRole('button', { name: /^Not yet/ }).click()
    await due.getByLabel('Expected on').fill('mar 11')
    await due.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Lumber expected Wed, Mar 11').first().waitFor()
    await due.waitFor({ state: 'detached' })
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click()

    await due.getByRole('button', { name: /^It’s here/ }).press('Enter')
    await page.getByText('Lumber is here, rests until Sat, Mar 14').first().waitFor()
    await goTo(app, '#/timber')
    await page
      .getByRole('navigation', { name: /^Pages of/ })
      .getByRole('button', { name: /^To buy/ })
      .click()
    const waiting = page.getByRole('article', { name: 'Orders waiting for lumber' })
    await waiting.getByText('Lumber rests until Sat, Mar 14').waitFor()
    await waiting.getByRole('button', { name: /^OK to cut/ }).click()
    await waiting.waitFor({ state: 'detached' })
    await goTo(app, '#/bench')
    await page.getByRole('region', { name: /^Next: Joint and plane/ }).waitFor()
  })

  test('may be the customer’s own, said with the order and changed on its page', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await saveWalnutDraft(app)
    await goTo(app, '#/new-order')
    await page.getByText('Lumber counted as on hand: no boards listed.').waitFor()
    await page.getByLabel('Lumber', { exact: true }).selectOption({ label: 'Customer brings it' })
    await page.getByLabel('Comes on').fill('mar 12')
    await page
      .getByRole('complementary', { name: 'Date' })
      .getByText('Customer’s lumber: Thu, Mar 12, then 7 days to rest')
      .first()
      .waitFor()
    await page.keyboard.press('Control+Enter')
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()
    const lumber = page.getByRole('region', { name: 'Lumber' })
    await lumber.getByRole('button', { name: 'Change where it comes from' }).click()
    await lumber.getByLabel('Lumber', { exact: true }).selectOption({ label: 'In the shop' })
    await lumber.getByRole('button', { name: 'Save' }).click()
    await lumber.getByText('In the shop, OK to cut.').waitFor()
    await page.getByText('Lumber is in the shop: No. 1, Ada Quist.').waitFor()
  })
})
