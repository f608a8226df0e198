import { describe, expect } from 'vitest'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { localDay } from '../../core/time/local-day.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { tabTo } from './support/keyboard.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

/** More Tabs than any page of these has. */
const FAR = 120

/** An agreed order for a board. The tests begin on Tuesday, March 3, 2026. */
async function takeBoard({ desk }: OpenApp, name = 'Ada Quist', count = '1'): Promise<string> {
  const customer = { name, reach: '555-0100', secondReach: '', address: '', allergies: '' }
  const input = { ...constructionOf('edge-grain-board')?.starting('inch') }
  const taken = await desk.takeOrder({
    draft: {
      customer: { ...customer, childUnder3: 'not-asked' },
      takenWhere: 'fair',
      pieces: [{ construction: 'edge-grain-board', input, count }],
      ...{ neededBy: '', neededWhy: '', notes: '', price: '', deposit: '', depositHow: '' },
      home: ALMANAC_HOME,
    },
    ...{ standing: 'agreed', promisedFor: null },
  })
  return valueOf(taken).commissionId
}

describe('supplies', () => {
  test('are out by one press at the Bench, on the list, and here again by another', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await takeBoard(app)
    await workOff(app, 2)
    await goTo(app, '#/bench')
    const next = page.getByRole('region', { name: /^Next: Glue-up/ })
    await next.getByRole('button', { name: 'Out of Waterproof PVA glue' }).click()
    await page.getByText('Out of Waterproof PVA glue, expected Sat, Mar 7.').first().waitFor()
    await next.waitFor({ state: 'detached' })

    await goTo(app, '#/timber')
    const pages = page.getByRole('navigation', { name: /^Pages of/ })
    await pages.getByRole('button', { name: /^Supplies/ }).click()
    const row = page.getByRole('listitem').filter({ hasText: 'Waterproof PVA glue' })
    await row.getByText('out, expected Sat, Mar 7').waitFor()
    await pages.getByRole('button', { name: /^To buy/ }).click()
    await page.getByRole('article', { name: 'Supplies to buy' }).getByText('Waterproof PVA glue').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    valueOf(await desk.testSetClock({ now: '2026-03-07T16:00:00Z' }))
    await goTo(app, '#/bench')
    await page
      .getByRole('region', { name: 'Did the supplies come?' })
      .getByRole('button', { name: /^It’s here/ })
      .press('Enter')
    await next.waitFor()
  })

  test('have an amount and a mark, hardware too', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/timber')
    await page.getByRole('button', { name: 'Add your first boards' }).click()
    await page
      .getByRole('navigation', { name: /^Pages of/ })
      .getByRole('button', { name: /^Supplies/ })
      .click()
    await page.getByRole('button', { name: 'Add hardware' }).click()
    await page.getByLabel('What').fill('Butt hinges 2 in')
    await page.getByLabel('In stock').fill('a few')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Type how many, such as 12.').first().waitFor()
    await page.getByLabel('In stock').fill('4')
    await page.getByLabel('Buy again at').fill('6')
    await page.getByRole('button', { name: 'Save' }).click()
    const row = page.getByRole('listitem').filter({ hasText: 'Butt hinges 2 in' })
    await row.getByText('4 in stock').waitFor()
    await row.getByText('to buy', { exact: true }).waitFor()
  })
})

describe('a step on a day of one’s own', () => {
  test('is set and let go at the Bench, and on the order’s page', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    await goTo(app, '#/bench')
    const next = page.getByRole('region', { name: /Cut the boards/ })
    await next.getByRole('button', { name: /^Do this on…/ }).click()
    await next.getByLabel('Do it on').fill('mar 9')
    await next.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Set for Mon, Mar 9').first().waitFor()
    const steps = valueOf(await desk.commission({ id })).pieces[0]!.steps
    const { timeZone } = valueOf(await desk.shopState())
    expect(localDay(steps[0]!.startAt ?? 0, timeZone)).toBe('2026-03-09')

    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Any day: Cut the boards' }).press('Enter')
    await page.getByText('Set for Mon, Mar 9', { exact: true }).waitFor({ state: 'detached' })
    await page.getByText('Set a day for a step').click()
    await page.getByLabel('Step of Wall shelf').selectOption({ label: 'Glue the shelf' })
    await page.getByRole('button', { name: 'Do this on…: Glue the shelf' }).click()
    await page.getByLabel('Do it on').fill('mar 14')
    await page.getByRole('button', { name: 'Save' }).last().click()
    await expect
      .poll(
        async () =>
          valueOf(await desk.commission({ id })).pieces[0]!.steps.find(({ name }) => name === 'Glue the shelf')!
            .pinnedDay,
      )
      .toBe('2026-03-14')
  })
})

describe('stock that follows the work', () => {
  test('asks after milling which boards it came from, and puts their offcuts on hand', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const board = { wood: 'maple', thickness: '8/4', width: '8', length: '96', flaws: '', quality: '', place: '' }
    valueOf(
      await desk.boardsAdd({ board: { ...board, price: '60', moisture: '' }, count: '2', photo: { kind: 'none' } }),
    )
    const id = await takeBoard(app)
    await workOff(app, 1)
    await goTo(app, '#/bench')
    const asked = page.getByRole('region', { name: /^Boards for Joint and plane the stock/ })
    const planned = asked.getByRole('checkbox', { name: /^no\. 1, Maple.*parts, leaves/ })
    await planned.waitFor()
    await expect.poll(() => planned.isChecked()).toBe(true)
    await expect.poll(() => asked.getByRole('checkbox', { name: /^no\. 2/ }).isChecked()).toBe(false)
    await asked.getByRole('button', { name: /^Take as cut/ }).press('Enter')
    await page
      .getByText(/^Cut: no\. 1\. Offcuts on hand/)
      .first()
      .waitFor()
    await asked.waitFor({ state: 'detached' })

    // What was paid for it stands with the order, beside what it would cost at the yard; undo takes it away with the cut.
    const order = async () => valueOf(await desk.commission({ id }))
    const paid = (await order()).woodPaidMinor
    expect(paid).toBeGreaterThan(0)
    expect(paid).toBeLessThanOrEqual(6000)
    await goTo(app, `#/commission/${id}`)
    const cost = page.getByText('Boards cut for it:')
    await expect.poll(() => cost.innerText()).toBe(`Boards cut for it: $${(paid / 100).toFixed(2)}`)
    const bought = valueOf(
      await desk.boardsAdd({
        board: { ...board, price: '45', moisture: '', boughtFor: id },
        ...{ count: '1', photo: { kind: 'none' } },
      }),
    )
    await page.getByText('Bought for it, still whole: $45.00').waitFor()
    // What the boards cost stands beside the order that is made again, too.
    await page.getByRole('button', { name: 'Make again' }).press('Enter')
    const before = page.getByRole('region', { name: /^Made before/ })
    await before.getByText(`$${(paid / 100).toFixed(2)}`).waitFor()
    valueOf(await desk.undo({ entryId: bought.entryId! }))
    await goTo(app, '#/bench')
    await page.getByText(/^Board cut/).waitFor()
    await page.keyboard.press('u')
    await planned.waitFor()
    expect((await order()).woodPaidMinor).toBe(0)
  })

  // A board of 40 in gives ten staves, and a piece has six: 12 are milled and 24 to come, for which three boards do and two do not.
  test('takes some of the planned boards or others, by keyboard, and the lumberyard’s list knows what is gone', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const board = { wood: 'maple', thickness: '8/4', width: '8', length: '40', flaws: '', quality: '', place: '' }
    valueOf(
      await desk.boardsAdd({ board: { ...board, price: '60', moisture: '' }, count: '3', photo: { kind: 'none' } }),
    )
    await takeBoard(app, 'Ada Quist', '2')
    await workOff(app, 1)
    await takeBoard(app, 'Bo Kestrel')
    await takeBoard(app, 'Cy Marsh', '3')
    const openLumber = async (tally: RegExp) => {
      await goTo(app, '#/timber')
      await tabTo(page, tally, FAR)
      await page.keyboard.press('Enter')
      await page.getByRole('navigation', { name: 'Pages of Lumber' }).locator('[aria-current="page"]').waitFor()
    }
    const inStock = async () => {
      await openLumber(/^On hand/)
      const own = page.getByRole('article', { name: 'Maple' }).getByRole('listitem')
      await own.first().waitFor()
      return (await own.allInnerTexts()).map((text) => text.replaceAll(/\s+/g, ' '))
    }
    const numbers = async () => (await inStock()).map((text) => /^no\. (\d+)/.exec(text)![1])
    const nothingToBuy = async () => {
      await openLumber(/^To buy/)
      await page.getByText('No boards to buy: those on hand give every part of the open orders.').waitFor()
    }
    const buysMapleFor = async (orders: string) => {
      await openLumber(/^To buy/)
      const list = page.getByRole('table', { name: 'Boards of Maple to buy' })
      await list.getByRole('cell', { name: orders, exact: true }).waitFor()
    }
    const boardsPlanned = async () => {
      await openLumber(/^Cutting plan/)
      const boards = page.getByRole('heading', { name: /^Board no\./ })
      await boards.first().waitFor()
      return (await boards.allInnerTexts()).map((text) => /no\. (\d+)/.exec(text)![1])
    }

    // As long as nobody says otherwise, the boards stand there whole.
    await nothingToBuy()
    const asked = page.getByRole('region', { name: /^Boards for Joint and plane the stock/ })
    const box = (number: number) => asked.getByRole('checkbox', { name: new RegExp(`^no\\. ${number}, Maple`) })
    const toggle = async (number: number) => {
      const was = await box(number).isChecked()
      await tabTo(page, new RegExp(`^no\\. ${number}, Maple`), FAR)
      await page.keyboard.press('Space')
      await expect.poll(() => box(number).isChecked()).toBe(!was)
    }
    const openQuestion = async () => {
      await goTo(app, '#/bench')
      await expect
        .poll(async () => [await box(1).isChecked(), await box(2).isChecked(), await box(3).isChecked()])
        .toEqual([true, true, false])
    }
    const takeAsCut = async (said: RegExp) => {
      await tabTo(page, /^Take as cut/, 6)
      await page.keyboard.press('Enter')
      await page.getByRole('status').filter({ hasText: said }).first().waitFor()
    }

    // Some: one of the two. What it did not give is asked for, and the other board is still there.
    await openQuestion()
    await asked.getByText('Joint and plane the stock, 12 parts').waitFor()
    await toggle(2)
    await takeAsCut(/^Cut: no\. 1\./)
    await box(1).waitFor({ state: 'detached' })
    await asked.getByText('Joint and plane the stock, 2 parts').waitFor()
    expect(await numbers()).toEqual(['2', '3'])
    expect(await boardsPlanned()).toEqual(['2', '3'])
    await buysMapleFor('no. 3')
    await goTo(app, '#/bench')
    await page
      .getByText(/^Board cut/)
      .first()
      .waitFor()
    await page.keyboard.press('u')
    await box(1).waitFor()
    await nothingToBuy()

    // Others: the third in place of the second.
    await openQuestion()
    await toggle(2)
    await toggle(3)
    await takeAsCut(/^Cut: no\. 1, 3\. Offcuts on hand: no\. 4/)
    await asked.waitFor({ state: 'detached' })
    // Two staves of 1 5/16" by 16 1/2" out of 8" by 40", 1/8" lost to each cut and 1/2" to a bad end.
    expect(await inStock()).toEqual([
      expect.stringMatching(/^no\. 2 2" x 8" x 40" /),
      expect.stringMatching(/^no\. 4 2" x 5 1\/8" x 16 1\/2" .*left of no\. 3 /),
      expect.stringMatching(/^no\. 5 2" x 8" x 22 7\/8" .*left of no\. 3 /),
    ])
    const planned = await boardsPlanned()
    expect(planned).toContain('2')
    expect(planned).not.toContain('1')
    expect(planned).not.toContain('3')
    await buysMapleFor('no. 3')
  })
})
