import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { describe, expect } from 'vitest'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { holdAnswer } from './support/hold-answer.ts'
import { goTo, valueOf } from './support/small-order.ts'
import type { DraftPiece } from '../../desk/orders/draft.ts'

const page = (app: OpenApp, name: string) =>
  app.page.getByRole('navigation', { name: 'Pages of Lumber' }).getByRole('button', { name: new RegExp(`^${name}`) })

/** An agreed order for a plain walnut board, 16" x 10". */
async function takeBoardOrder({ desk }: OpenApp): Promise<void> {
  const piece: DraftPiece = {
    construction: 'edge-grain-board',
    input: { ...constructionOf('edge-grain-board')?.starting('inch'), woodA: 'walnut' },
    count: '1',
  }
  const customer = { name: 'Ada Quist', reach: '555-0100', secondReach: '', address: '', allergies: '' }
  valueOf(
    await desk.takeOrder({
      draft: {
        customer: { ...customer, childUnder3: 'not-asked' },
        takenWhere: 'fair',
        pieces: [piece],
        ...{ neededBy: '', neededWhy: '', notes: '', price: '', deposit: '', depositHow: '' },
        home: ALMANAC_HOME,
      },
      standing: 'agreed',
      promisedFor: '2026-05-30',
    }),
  )
}

describe('Timber', () => {
  test('says what to do first while there is nothing, and takes boards by keyboard alone', async ({ openApp }) => {
    const app = await openApp()
    await goTo(app, '#/bench')
    await app.page.getByRole('heading', { level: 1 }).waitFor()
    await app.page.keyboard.press('l')
    await app.page.getByRole('heading', { name: 'No lumber yet' }).waitFor()
    await app.page.getByRole('button', { name: 'Add your first boards' }).press('Enter')
    const line = app.page.getByLabel('Boards in one line')
    await expect.poll(() => line.evaluate((field) => field === document.activeElement)).toBe(true)
    await app.page.keyboard.type("2 walnut 8/4 x 7 1/4 x 8', $96")
    await app.page.keyboard.press('Enter')
    await app.page.getByText('On hand: boards no. 1 to 2.').waitFor()
    // The form is ready for the next ones, with the wood as it was.
    await expect.poll(() => line.inputValue()).toBe('')
    await expect.poll(() => app.page.getByLabel('Wood').inputValue()).toBe('walnut')
    await app.page.keyboard.type('5/4 x 6 x 40')
    await app.page.getByLabel('Defects (from left end)').fill('12-15')
    await app.page.keyboard.press('Enter')
    await app.page.getByText('avoid 12" to 15"').waitFor()
    const { boards } = valueOf(await app.desk.timber({ askedAbout: false, lines: 24 }))
    expect(boards.map(({ number, priceMinor }) => [number, priceMinor])).toEqual([
      [1, 9600],
      [2, 9600],
      [3, null],
    ])
  })

  test('says at the field what is wrong, and keeps what was typed', async ({ openApp }) => {
    const app = await openApp()
    await goTo(app, '#/timber')
    await app.page.getByRole('button', { name: 'Add your first boards' }).click()
    await app.page.getByLabel('Thickness', { exact: true }).fill('thick')
    await app.page.getByRole('button', { name: 'Add boards' }).click()
    await app.page.getByText('“thick” is not a size I can read').waitFor()
    await app.page.getByText('Which wood is it?').waitFor()
    await expect.poll(() => app.page.getByLabel('Thickness', { exact: true }).inputValue()).toBe('thick')
  })

  test('goes from what to buy over the plan to a board that is cut, and back', async ({ openApp }) => {
    const app = await openApp()
    await takeBoardOrder(app)
    await goTo(app, '#/timber')
    await page(app, 'To buy').click()
    await app.page
      .getByRole('article', { name: 'Glue and finish' })
      .getByText('Waterproof PVA glue', { exact: true })
      .waitFor()
    await app.page.getByRole('button', { name: /^Bought: 1 × 8\/4 Walnut/ }).click()
    await app.page.getByRole('button', { name: 'Add boards' }).click()
    await app.page.getByText('On hand: board no. 1.').waitFor()
    await page(app, 'To buy').getByText('nothing').waitFor()

    await page(app, 'Cutting plan').click()
    const board = app.page.getByRole('article', { name: 'Board no. 1' })
    await board.getByRole('img', { name: /parts, .* cuts/ }).waitFor()
    await board.getByText('cuts in order').click()
    await board
      .getByText(/^Trim .*left end|^Crosscut to/)
      .first()
      .waitFor()
    // Each cut has its number in the drawing; by keyboard the one that is reached is shown there, by pressing it stays shown.
    const drawn = board.locator('svg .count')
    const listed = board.getByRole('listitem').getByRole('button')
    await expect
      .poll(() => drawn.allTextContents())
      .toEqual(Array.from({ length: await listed.count() }, (_, index) => String(index + 1)))
    const shown = board.locator('svg .count.shown')
    await listed.nth(2).focus()
    await expect.poll(() => shown.allTextContents()).toEqual(['3'])
    await app.page.keyboard.press('Enter')
    await app.page.keyboard.press('Tab')
    await expect.poll(() => shown.allTextContents()).toEqual(['4'])
    await listed.nth(3).blur()
    await expect.poll(() => shown.allTextContents()).toEqual(['3'])
    await board.getByRole('button', { name: 'Cut: board no. 1' }).click()
    await app.page.getByText(/^Cut: board no. 1/).waitFor()
    await app.page.getByText('Nothing to cut').waitFor()
    await page(app, 'On hand').click()
    await app.page.getByText('left of no. 1').first().waitFor()

    await app.page.getByRole('button', { name: 'Undo', exact: true }).click()
    await app.page.getByText('left of no. 1').first().waitFor({ state: 'detached' })
    await page(app, 'Cutting plan').click()
    await board.waitFor()
  })

  test('shows what to mill while the boards are still being laid out, and no figure of a plan that is not there', async ({
    openApp,
  }) => {
    const app = await openApp()
    await takeBoardOrder(app)
    const board = { wood: 'walnut', thickness: '8/4', width: '7', length: '96', flaws: '', quality: '', moisture: '' }
    valueOf(
      await app.desk.boardsAdd({ board: { ...board, place: 'Rack', price: '' }, count: '2', photo: { kind: 'none' } }),
    )
    const laidOut = await holdAnswer(app.page, 'woodToCut')
    await goTo(app, '#/timber')
    await app.page.getByRole('table', { name: /^Parts to mill/ }).waitFor()
    const plan = page(app, 'Cutting plan')
    const toBuy = page(app, 'To buy')
    await expect
      .poll(() => Promise.all([plan.innerText(), toBuy.innerText()]))
      .toEqual(['Cutting plan\nbeing laid out', 'To buy\nafter the cutting plan'])
    await page(app, 'On hand').click()
    await app.page.getByText('no. 2', { exact: true }).waitFor()
    const use = app.page.getByText(/^(free|to cut for order no\. 1)$/)
    await expect.poll(() => use.count()).toBe(0)
    await toBuy.click()
    await app.page.getByText('Laying out the boards.').waitFor()
    await app.page.getByRole('article', { name: 'Glue and finish' }).waitFor()
    expect(await accessibilityProblems(app.page)).toEqual([])

    laidOut.letGo()
    await app.page.getByText('No boards to buy').waitFor()
    await expect.poll(() => plan.innerText()).toMatch(/^Cutting plan\n1\s+board to cut$/)
    await page(app, 'On hand').click()
    await expect.poll(() => use.allInnerTexts()).toEqual(['to cut for order no. 1', 'free'])

    // What followed from the plan before stands grayed until another one is there.
    const again = await holdAnswer(app.page, 'woodToCut')
    await app.page.getByRole('button', { name: 'Used up: board no. 2' }).click()
    await use.nth(1).waitFor({ state: 'detached' })
    await expect.poll(() => plan.locator('.figure').getAttribute('class')).toMatch(/\boutdated\b/)
    again.letGo()
    await expect.poll(() => plan.locator('.figure').getAttribute('class')).not.toMatch(/\boutdated\b/)
  })

  test('asks for the price of the yard where it stands, and reckons with it from then on', async ({ openApp }) => {
    const app = await openApp()
    await takeBoardOrder(app)
    await goTo(app, '#/timber')
    await page(app, 'To buy').click()
    const walnut = app.page.getByRole('article', { name: 'Walnut' })
    await walnut.getByText('No price yet.').waitFor()
    const price = walnut.getByLabel('Price of Walnut, a board foot')
    await price.fill('cheap')
    await price.press('Enter')
    await walnut.getByText('“cheap” is not an amount').waitFor()
    await price.fill('12')
    await price.press('Enter')
    const { woods } = valueOf(await app.desk.woodToCut({ askedAbout: false })).toBuy
    await app.page.getByText('for the boards to buy, with waste').waitFor()
    await expect
      .poll(async () => valueOf(await app.desk.woodToCut({ askedAbout: false })).toBuy.costMinor)
      .toBe(Math.round(((woods[0]?.boardFeet ?? 0) * 1200) / 0.85))
    await app.page.getByRole('article', { name: 'What the wood of each order costs' }).waitFor()
  })

  test('loses another share by wood, grade and thickness, and the list to buy and the price follow', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { desk } = app
    await takeBoardOrder(app)
    valueOf(await desk.almanacChangeFact({ key: 'yard.price.walnut', input: '12' }))
    const cost = async () => valueOf(await desk.woodToCut({ askedAbout: false })).toBuy.costMinor
    const before = (await cost())!
    await goTo(app, '#/almanac')
    const pages = app.page.getByRole('navigation', { name: 'Pages of the Almanac' })
    await pages.getByRole('button', { name: 'Lumberyard' }).click()
    const waste = app.page.getByLabel('Waste: Walnut', { exact: true })
    await waste.fill('mostly')
    await waste.press('Enter')
    await app.page.getByText('Walnut: type a share or grade, then thicknesses, like FAS, 8/4 30%.').waitFor()
    expect(await cost()).toBe(before)
    await waste.fill('FAS, 8/4 50%')
    await waste.press('Enter')
    await expect.poll(() => cost()).toBeGreaterThan(before)
    await expect.poll(() => waste.inputValue()).toBe('FAS, 8/4 50%')
    expect(valueOf(await desk.almanac()).almanac.woodWaste['walnut']).toMatchObject({ grade: 'fas' })
    expect(await accessibilityProblems(app.page)).toEqual([])
    await waste.fill('')
    await waste.press('Enter')
    await expect.poll(() => cost()).toBe(before)
  })

  test('makes a photo small before it is kept, and shows it with its board', async ({ openApp }) => {
    const app = await openApp()
    await goTo(app, '#/timber')
    await app.page.getByRole('button', { name: 'Add your first boards' }).click()
    await app.page.getByLabel('Boards in one line').fill('ash 5/4 x 6 x 40')
    // 6 in and 3 whole feet: a square foot and a half, counted as 2 (NHLA rules), times 1 1/4.
    await app.page.getByText(/^Measures 2\.1.bd.ft, billed as 3 \(5\/4\)\.$/).waitFor()
    // A picture of 3000 x 2000 pixels, drawn in the page.
    const picture = await app.page.evaluate(() => {
      const canvas = document.createElement('canvas')
      canvas.width = 3000
      canvas.height = 2000
      const pen = canvas.getContext('2d')
      for (let line = 0; line < 400; line++) {
        if (pen) pen.fillStyle = `hsl(${line} 60% 50%)`
        pen?.fillRect((line * 37) % 3000, 0, 20, 2000)
      }
      return canvas.toDataURL('image/png').replace(/^.*,/, '')
    })
    await app.page.getByLabel('Photo').setInputFiles({
      name: 'board.png',
      mimeType: 'image/png',
      buffer: Buffer.from(picture, 'base64'),
    })
    await app.page.getByAltText('As it will be kept').waitFor()
    await app.page.getByRole('button', { name: 'Add boards' }).click()
    await app.page.getByRole('button', { name: 'Show the photo of board no. 1' }).click()
    const shown = app.page.getByRole('dialog').getByRole('img')
    await expect.poll(() => shown.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBe(1280)
    const [board] = valueOf(await app.desk.timber({ askedAbout: false, lines: 24 })).boards
    const kept = valueOf(await app.desk.photo({ id: board?.photoId ?? '' }))
    expect(kept.mediaType).toBe('image/jpeg')
    expect((kept.base64.length * 3) / 4).toBeLessThan(500_000)
  })

  test.for(['light', 'dark'] as const)('has nothing that keeps anybody out, %s', async (colorScheme, { openApp }) => {
    const app = await openApp({ demo: true })
    await app.page.emulateMedia({ colorScheme })
    await goTo(app, '#/timber')
    for (const name of ['To mill', 'On hand', 'Cutting plan', 'To buy']) {
      await page(app, name).click()
      expect(await accessibilityProblems(app.page), name).toEqual([])
    }
    await page(app, 'On hand').click()
    await app.page.getByRole('button', { name: 'Add boards' }).click()
    expect(await accessibilityProblems(app.page), 'the form').toEqual([])
  })

  test.for(['Letter', 'A4'] as const)(
    'prints the plan and the list on %s without the frame',
    async (format, { openApp }) => {
      const app = await openApp({ demo: true })
      await goTo(app, '#/timber')
      await page(app, 'Cutting plan').click()
      await app.page.emulateMedia({ media: 'print', colorScheme: 'dark' })
      const visible = (name: string) => app.page.getByRole('button', { name }).first().isVisible()
      expect([
        await visible('Print'),
        await visible('Cut: board'),
        await app.page.getByRole('navigation').first().isVisible(),
      ]).toEqual([...[false, false, false]])
      // The cuts are unfolded on paper, and paper is white whatever the screen is.
      await expect
        .poll(() =>
          app.page
            .getByText(/Crosscut to/)
            .first()
            .isVisible(),
        )
        .toBe(true)
      const [drawn, cuts] = [app.page.locator('svg .count'), app.page.locator('article ol > li')]
      await expect.poll(() => drawn.count()).toBe(await cuts.count())
      await expect.poll(() => drawn.last().isVisible()).toBe(true)
      const ground = await app.page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor)
      expect(ground).toBe('rgb(255, 255, 255)')
      const wide = format === 'Letter' ? 816 : 794
      await app.page.setViewportSize({ width: wide - 2 * 57, height: 1000 })
      const over = await app.page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      )
      expect(over).toBe(0)
    },
  )
})
