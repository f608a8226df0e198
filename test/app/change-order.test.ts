import { describe, expect } from 'vitest'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { endGrainBoard } from '../../core/constructions/end-grain/end-grain-board.ts'
import type { OpenApp } from '../support/app.ts'
import { hasFocus, tabTo } from './support/keyboard.ts'
import { goTo, passMinutes, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

/** More Tabs than any page of these has. */
const FAR = 160

/** An agreed order of two boards, of which some steps are done. */
async function boardsInWork(app: OpenApp): Promise<string> {
  const id = await takeBoards(app, '2')
  await workOff(app, 3)
  await passMinutes(app, 60)
  return id
}

async function takeBoards({ desk }: OpenApp, count: string): Promise<string> {
  const customer = { name: 'Ada Quist', reach: '555-0100', secondReach: '', address: '', allergies: '' }
  const taken = await desk.takeOrder({
    draft: {
      customer: { ...customer, childUnder3: 'not-asked' },
      takenWhere: 'fair',
      pieces: [{ construction: 'end-grain-board', input: endGrainBoard.starting('inch'), count }],
      ...{ neededBy: '', neededWhy: '', notes: '', home: ALMANAC_HOME, price: '300', deposit: '', depositHow: '' },
    },
    standing: 'agreed',
    promisedFor: '2026-03-12',
  })
  return valueOf(taken).commissionId
}

describe('an agreed order', () => {
  test('is changed by keyboard: old and new stand side by side, the change is kept with who asked, and undo restores it', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await boardsInWork(app)
    const before = valueOf(await desk.commission({ id }))
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Change the order' }).waitFor()
    await page.keyboard.press('c')
    await page.getByRole('heading', { name: 'Change no. 1 Ada Quist' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    // Another finish: nothing done is lost.
    const finish = page.getByLabel('Finish', { exact: true })
    await finish.selectOption({ label: 'Hardwax oil' })
    await page.getByLabel(/^Price/).fill('340')
    const table = page.getByRole('table', { name: 'The order now and changed' })
    await expect.poll(() => table.getByRole('row', { name: /^Price/ }).innerText()).toMatch(/\$300.*\$340.*\$40.*more/s)
    await expect
      .poll(() => page.getByRole('group', { name: 'Work done so far' }).innerText())
      .toMatch(/of work counts\./)
    // Other sizes: it is, unless the maker says that a step serves.
    await page.getByLabel('Cell size', { exact: true }).fill('1 3/4"')
    const work = page.getByRole('group', { name: 'Work done so far' })
    await expect.poll(() => work.innerText()).toMatch(/is lost; the hours stay in the book/)
    await work.getByRole('checkbox').first().press('Space')
    await expect.poll(() => work.innerText()).toMatch(/of work counts\. .* is lost/s)
    await expect.poll(() => table.getByRole('row', { name: /^Promised/ }).innerText()).toMatch(/in 10.*in 10/s)
    expect(await accessibilityProblems(page)).toEqual([])

    await page.getByLabel(/^Why/).fill('bigger squares')
    await page.getByRole('radio', { name: /^Promise / }).press('Space')
    await page.keyboard.press('Control+Enter')
    await page.getByRole('status').filter({ hasText: 'Changed: No. 1, Ada Quist.' }).waitFor()
    await page.getByRole('heading', { name: /^Ada Quist/ }).waitFor()
    const after = valueOf(await desk.commission({ id }))
    expect(after.priceMinor).toBe(34_000)
    expect(after.promises).toHaveLength(2)
    expect(after.promises[0]).toMatchObject({ day: after.promisedFor, wantedBy: 'customer' })
    expect(after.history[0]!.text).toContain('Customer asked: bigger squares')
    expect(after.pieces.flatMap(({ steps }) => steps).filter(({ lost }) => lost)).toHaveLength(2)

    await page.getByRole('button', { name: 'Undo', exact: true }).press('Enter')
    await expect.poll(async () => valueOf(await desk.commission({ id })).priceMinor).toBe(30_000)
    const restored = valueOf(await desk.commission({ id }))
    expect(restored.promisedFor).toBe(before.promisedFor)
    expect(restored.promises).toEqual(before.promises)
    expect(restored.pieces.map(({ steps }) => steps.map(({ stepId, state }) => [stepId, state]))).toEqual(
      before.pieces.map(({ steps }) => steps.map(({ stepId, state }) => [stepId, state])),
    )
  })

  test('keeps what was typed of a change, says what is wrong with it, and lets it be discarded', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Change the order' }).click()
    await page.getByLabel('How many', { exact: true }).fill('some')
    await page.getByRole('button', { name: 'Keep the change' }).click()
    await page.getByText('How many? Write a whole number from 1 to 999.').waitFor()
    await page.getByLabel('How many', { exact: true }).fill('2')
    await page.getByLabel('Name', { exact: true }).fill('Ada Quist-Hale')
    await expect.poll(async () => valueOf(await desk.changeBegin({ id })).draft.customer.name).toBe('Ada Quist-Hale')
    await page.reload()
    await expect.poll(() => page.getByLabel('How many', { exact: true }).inputValue()).toBe('2')
    // It is no order of its own.
    expect(valueOf(await desk.drafts())).toEqual([])
    await page.getByRole('button', { name: 'Discard the change' }).click()
    await page.getByRole('heading', { name: /^Ada Quist/ }).waitFor()
    expect(valueOf(await desk.changeBegin({ id })).draft.customer.name).toBe('Ada Quist')
    expect(valueOf(await desk.commission({ id })).pieces[0]!.piece.count).toBe(1)
  })

  test('that is changed keeps what was done to its steps by hand: left out, earlier and put in, until that is undone', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeBoards(app, '1')
    const steps = async () => valueOf(await desk.commission({ id })).pieces[0]!.steps
    // "Flatten the boards", where there are two of them.
    const named = (name: string) => name.replace(/boards$/, 'board')
    const names = async () => (await steps()).map(({ name }) => named(name))
    const count = async () => valueOf(await desk.commission({ id })).pieces[0]!.piece.count
    const openSteps = async (name: string) => {
      await page.getByRole('button', { name: `Log: ${name}`, exact: true }).press('Enter')
      await page.getByRole('radio', { name: 'Steps' }).press('Space')
    }
    const makeTwo = async () => {
      await page.getByRole('button', { name: 'Change the order' }).click()
      await page.getByLabel('How many', { exact: true }).fill('2')
      await page.getByRole('table', { name: 'The order now and changed' }).waitFor()
      await page.getByRole('button', { name: 'Keep the change' }).click()
      await page.getByRole('status').filter({ hasText: 'Changed: No. 1, Ada Quist.' }).waitFor()
      await expect.poll(count).toBe(2)
    }
    const start = await steps()
    const free = start.find(({ canComeBefore }) => canComeBefore !== null)!
    const out = start.find(({ name }) => /sand|ease/i.test(name))!
    await goTo(app, `#/commission/${id}`)
    await openSteps(out.name)
    await page.getByRole('button', { name: 'Leave it out' }).press('Enter')
    await page
      .getByRole('status')
      .filter({ hasText: `Left out: ${out.name.toLowerCase()}` })
      .waitFor()
    await openSteps(free.name)
    await page.getByRole('button', { name: `Do it before: ${free.canComeBefore!.toLowerCase()}` }).press('Enter')
    await page
      .getByRole('status')
      .filter({ hasText: `Done earlier: ${free.name.toLowerCase()}` })
      .waitFor()
    await openSteps('First coat')
    await page.getByLabel(/^Extra step after it/).fill('Brand the logo')
    await page.getByLabel(/^Hands-on/).fill('20 min')
    await page.getByRole('button', { name: 'Add the step' }).press('Enter')
    await page.getByRole('status').filter({ hasText: 'Step added: brand the logo' }).waitFor()
    const byHand = await names()
    expect(byHand).not.toContain(out.name)
    expect(byHand).toContain('Brand the logo')
    expect(byHand.indexOf(free.name)).toBeLessThan(byHand.indexOf(free.canComeBefore!))

    await makeTwo()
    await expect.poll(names).toEqual(byHand)

    // With all three taken back, the next change has the steps as they would have been.
    await page.getByRole('button', { name: 'Undo', exact: true }).press('Enter')
    await expect.poll(count).toBe(1)
    for (let taken = 0; taken < 3; taken += 1) {
      const { history } = valueOf(await desk.commission({ id }))
      valueOf(await desk.undo({ entryId: history.find(({ canUndo }) => canUndo)!.entryId }))
    }
    expect(await steps()).toEqual(start)
    await makeTwo()
    await expect.poll(names).toEqual(start.map(({ name }) => named(name)))
  })

  test('has its steps changed by hand: one left out, one put in that is done outside, both undone', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const names = async () => valueOf(await desk.commission({ id })).pieces[0]!.steps.map(({ name }) => name)
    const before = await names()
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Log: Second coat' }).press('Enter')
    await page.getByRole('radio', { name: 'Steps' }).press('Space')
    await page.getByRole('button', { name: 'Leave it out' }).press('Enter')
    await page.getByRole('status').filter({ hasText: 'Left out: second coat' }).waitFor()
    await expect.poll(() => names()).toEqual(before.filter((name) => name !== 'Second coat'))

    await page.getByRole('button', { name: 'Log: First coat' }).press('Enter')
    await page.getByRole('radio', { name: 'Steps' }).press('Space')
    await page.getByLabel(/^Extra step after it/).fill('Brand the logo')
    await page.getByRole('radio', { name: 'Outside' }).press('Space')
    await page.getByLabel(/^Taking it there/).fill('20 min')
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: 'Add the step' }).press('Enter')
    await page.getByText('No time yet: type one').first().waitFor()
    await page.getByLabel(/^Away for/).fill('5 days')
    await page.getByRole('button', { name: 'Add the step' }).press('Enter')
    await page.getByRole('status').filter({ hasText: 'Step added: brand the logo' }).waitFor()
    await expect
      .poll(() => names())
      .toEqual(expect.arrayContaining(['Send out: Brand the logo', 'Fetch: Brand the logo']))
    await page.getByRole('rowheader', { name: /^Send out: Brand the logo/ }).waitFor()
    await page.getByRole('button', { name: 'Undo', exact: true }).press('Enter')
    await expect.poll(names).toEqual(before.filter((name) => name !== 'Second coat'))
  })

  test('gets another wood, another name and contact, a recipient and one more piece, by keyboard; promise and price follow, and one key restores all', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeBoards(app, '1')
    const order = async () => valueOf(await desk.commission({ id }))
    const lumber = async () => ({
      lists: valueOf(await desk.timber({ askedAbout: false, lines: 24 })),
      wood: valueOf(await desk.woodToCut({ askedAbout: false })),
    })
    const customers = async () =>
      valueOf(await desk.customers({ sought: '', within: 'all', count: 9 })).found.map(({ customer }) => customer.name)
    // All of it but the history, which keeps what was done, and the odds, which are worked out when somebody looks.
    const shown = async () => {
      const { history: _, odds: __, outlook: ___, ...rest } = await order()
      return rest
    }
    const before = { order: await shown(), lumber: await lumber() }
    const table = page.getByRole('table', { name: 'The order now and changed' })
    const inRow = (name: RegExp) => table.getByRole('row', { name }).innerText()
    const type = async (label: RegExp, text: string) => {
      await tabTo(page, label, FAR)
      await page.keyboard.press('Control+A')
      await page.keyboard.type(text)
    }

    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Change the order' }).waitFor()
    await page.keyboard.press('c')
    await hasFocus(page, /^How many/)
    await tabTo(page, /^Wood A/, FAR)
    await page.keyboard.type('Che')
    await expect.poll(() => inRow(/^Pieces/)).toMatch(/walnut and maple checkerboard\t.*cherry and maple checkerboard/s)
    await tabTo(page, /^Add another piece/, FAR)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Piece/)
    await page.keyboard.type('Your own')
    await type(/^What it is/, 'Peg rail')
    await expect.poll(() => inRow(/^Pieces/)).toMatch(/cherry and maple checkerboard; Peg rail$/)
    await expect.poll(() => inRow(/^To do/)).toMatch(/16 steps, .*23 steps, /s)
    await type(/^Name/, 'Ada Quist-Hale')
    await type(/^Phone or email/, 'ada@example.org')
    await type(/^Price/, '380')
    await tabTo(page, /^Gift, call back/, FAR)
    await page.keyboard.press('Enter')
    await type(/^Goes to/, 'Tam Quist')
    await type(/^Address to send to/, '9 Hill Road')
    await expect.poll(() => inRow(/^Price/)).toMatch(/\$300\.00\t\$380\.00\s*\$80\.00 more/)
    await type(/^Why/, 'a present now')
    const quoted = page.getByRole('radio', { name: /^Promise / })
    await quoted.press(' ')
    await expect.poll(() => quoted.isChecked()).toBe(true)
    await page.keyboard.press('Control+Enter')

    await page.getByRole('status').filter({ hasText: 'Changed: No. 1, Ada Quist-Hale.' }).waitFor()
    await page.getByRole('heading', { name: /^Ada Quist-Hale/ }).waitFor()
    const after = await order()
    expect(after.promisedFor! > '2026-03-12').toBe(true)
    expect(after.promises).toHaveLength(2)
    expect(after.promises[0]).toMatchObject({ day: after.promisedFor, wantedBy: 'customer' })
    const inFull = { weekday: 'long', month: 'long', day: 'numeric', timeZone: 'UTC' } as const
    await page.getByText(new Date(after.promisedFor!).toLocaleDateString('en-US', inFull), { exact: true }).waitFor()
    await page.getByText(/^ada@example\.org/).waitFor()
    await page.getByText('Goes to: Tam Quist, 9 Hill Road').waitFor()
    await page.getByRole('heading', { name: /cherry and maple checkerboard$/ }).waitFor()
    await page.getByRole('heading', { name: 'Peg rail', exact: true }).waitFor()
    const change = page.getByRole('region', { name: 'History' }).getByRole('listitem').first()
    await expect
      .poll(() => change.innerText())
      .toMatch(/Order changed: No\. 1, Ada Quist-Hale\. Customer asked: a present now/)
    expect(after.priceMinor).toBe(38_000)
    expect(await customers()).toEqual(['Ada Quist-Hale'])
    expect((await lumber()).lists.toMill.map(({ wood }) => wood)).toEqual(expect.arrayContaining(['cherry']))

    await page.keyboard.press('u')
    await page.getByRole('heading', { name: /^Ada Quist no\. 1/ }).waitFor()
    await expect.poll(shown).toEqual(before.order)
    expect(await lumber()).toEqual(before.lumber)
    expect(await customers()).toEqual(['Ada Quist'])
    await expect.poll(() => change.innerText()).toMatch(/Undid: order changed, No\. .*Customer asked: a present now/)
  })
})
