import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { test, type OpenApp } from '../support/app.ts'
import { tabTo } from './support/keyboard.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

/** More Tabs than any page of these has. */
const FAR = 120

/** An agreed order of one step of six hours without a wait. */
async function takeLongCarving({ desk }: OpenApp): Promise<string> {
  const carve = {
    name: 'Carve it',
    minutes: '6 h',
    kind: 'hand',
    wait: '',
    atMost: '',
    after: '',
    dusty: false,
    units: '',
  }
  const customer = { name: 'Ada Quist', reach: '555-0100', secondReach: '', address: '', allergies: '' } as const
  const taken = await desk.takeOrder({
    draft: {
      ...{ customer: { ...customer, childUnder3: 'not-asked' }, takenWhere: 'fair' },
      pieces: [{ construction: 'free-list', count: '1', input: { title: 'Carved panel', rows: [carve] } }],
      ...{ neededBy: '', neededWhy: '', notes: '', home: ALMANAC_HOME, price: '', deposit: '', depositHow: '' },
    },
    ...{ standing: 'agreed', promisedFor: null },
  })
  return valueOf(taken).commissionId
}

describe('two people in a shop, through the page', () => {
  test('a helper leaves the saw to others, a machine is counted, and one press says that the helper is not coming', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '8:00', to: '22:00' }))
    valueOf(await desk.almanacSave({ list: 'makers', item: { id: '', name: 'Wren', attendance: '100%', hours } }))

    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Stations' }).click()
    const left = page.getByRole('textbox', { name: 'Wren leaves to others' })
    await left.fill('the lathe')
    await left.press('Enter')
    await page.getByText('“the lathe”: type any of table saw').first().waitFor()
    await left.fill('saw, glue-ups')
    await left.press('Enter')
    await page.getByRole('combobox', { name: 'Table saw' }).selectOption('yes')
    await expect
      .poll(async () => {
        const { machines, leftToOthers } = valueOf(await desk.almanac()).almanac
        return [machines, Object.values(leftToOthers)]
      })
      .toEqual([['saw'], [['saw', 'glue-ups']]])
    expect(await accessibilityProblems(page)).toEqual([])

    await goTo(app, `#/commission/${id}`)
    await page
      .getByRole('table', { name: /^Steps of/ })
      .getByText('Wren')
      .first()
      .waitFor()

    // On paper, where no names can be looked up.
    await page.emulateMedia({ media: 'print' })
    const ticket = page.getByRole('article', { name: 'Job ticket' })
    const onTicket = (step: string) => ticket.getByRole('row').filter({ hasText: step }).first()
    for (const { name, who } of valueOf(await desk.commission({ id })).pieces[0]!.steps.filter(
      ({ who }) => who.length > 0,
    ))
      await expect.poll(() => onTicket(name).innerText()).toContain(who.join(', '))
    await expect.poll(() => ticket.getByText('Wren').count()).toBeGreaterThan(0)
    await page.emulateMedia({ media: 'screen' })

    await goTo(app, '#/bench')
    const away = page.getByRole('button', { name: 'Wren isn’t coming today' })
    await away.focus()
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Wren is coming after all' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.keyboard.press('u')
    await away.waitFor()
    expect(valueOf(await desk.almanac()).almanac.specialDays).toEqual([])
  })
})

describe('the drum sander and the router table', () => {
  test('are stations where the maker says so, by keyboard, and free for all again where the maker says that', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const counted = async () => [...valueOf(await desk.almanac()).almanac.machines].sort()
    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Stations' }).press('Enter')
    await page.getByRole('combobox', { name: 'Router table' }).waitFor()
    for (const [name, expected] of [
      ['Drum sander', ['drum-sander']],
      ['Router table', ['drum-sander', 'router-table']],
    ] as const) {
      const choice = page.getByRole('combobox', { name })
      await choice.press('ArrowDown')
      await expect.poll(counted).toEqual(expected)
      await expect.poll(() => choice.inputValue()).toBe('yes')
    }
    await page.getByRole('combobox', { name: 'Router table' }).press('ArrowUp')
    await expect.poll(counted).toEqual(['drum-sander'])
  })
})

/** An agreed order of a board whose first step is done on jointer and planer. */
async function takePlanedBoard({ desk }: OpenApp, name: string): Promise<string> {
  const customer = { name, reach: '555-0100', secondReach: '', address: '', allergies: '' } as const
  const input = { ...constructionOf('edge-grain-board')?.starting('inch') }
  const taken = await desk.takeOrder({
    draft: {
      ...{ customer: { ...customer, childUnder3: 'not-asked' }, takenWhere: 'fair' },
      pieces: [{ construction: 'edge-grain-board', count: '1', input }],
      ...{ neededBy: '', neededWhy: '', notes: '', home: ALMANAC_HOME, price: '', deposit: '', depositHow: '' },
    },
    ...{ standing: 'agreed', promisedFor: null },
  })
  return valueOf(taken).commissionId
}

describe('jobs that queue at one machine', () => {
  test('are planned one after the other once it is counted, and the Bench says who is on it; undo frees it', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '8:00', to: '22:00' }))
    const [me] = valueOf(await desk.almanac()).almanac.makers
    for (const item of [
      { id: me!.id, name: 'Me' },
      { id: '', name: 'Wren' },
    ])
      valueOf(await desk.almanacSave({ list: 'makers', item: { ...item, attendance: '100%', hours } }))
    const ids = [await takePlanedBoard(app, 'Ada Quist'), await takePlanedBoard(app, 'Bo Kestrel')]
    const plannings = async () =>
      Promise.all(ids.map(async (id) => valueOf(await desk.commission({ id })).pieces[0]!.steps[0]!))
    const areApart = async () => {
      const [one, other] = (await plannings()).toSorted((a, b) => a.startAt! - b.startAt!)
      return other!.startAt! >= one!.endAt!
    }
    expect(await areApart()).toBe(false)

    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Stations' }).press('Enter')
    const planer = page.getByRole('combobox', { name: 'Jointer and planer' })
    await planer.press('ArrowDown')
    await expect.poll(areApart).toBe(true)
    await expect.poll(() => planer.inputValue()).toBe('yes')

    // In the order of both pages: the second waits for the end of the first.
    const [first, second] = (await plannings()).toSorted((a, b) => a.startAt! - b.startAt!)
    await goTo(app, '#/bench')
    await page
      .getByRole('button', { name: new RegExp(`^Start: ${first!.name}`) })
      .first()
      .press('Enter')
    await page.getByRole('region', { name: new RegExp(`^On the bench: ${first!.name}`) }).waitFor()
    const queued = page
      .getByRole('listitem')
      .filter({ hasText: `Jointer and planer in use: ${first!.name.toLowerCase()}` })
    await queued.waitFor()
    await expect.poll(() => page.getByRole('button', { name: new RegExp(`^Start: ${second!.name}`) }).count()).toBe(0)
    expect(await accessibilityProblems(page)).toEqual([])
    await page.keyboard.press('d')
    await page
      .getByRole('status')
      .filter({ hasText: /^Done: / })
      .first()
      .waitFor()
    await queued.waitFor({ state: 'detached' })
    await page
      .getByRole('button', { name: new RegExp(`^Start: ${second!.name}`) })
      .first()
      .waitFor()
    await page.keyboard.press('u')
    await queued.waitFor()
    await page.keyboard.press('u')
    await queued.waitFor({ state: 'detached' })
  })
})

describe('a lunch break', () => {
  test('that is typed in the Almanac splits the long day in the plan: what ran through it ends later by as much', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const hours = [{ weekday: 6, from: '9:00', to: '17:00' }]
    const [maker] = valueOf(await desk.almanac()).almanac.makers
    valueOf(await desk.almanacSave({ list: 'makers', item: { id: maker!.id, name: 'Me', attendance: '100%', hours } }))
    const id = await takeLongCarving(app)
    const carving = async () => valueOf(await desk.commission({ id })).pieces[0]!.steps[0]!
    const saturday = async () => valueOf(await desk.weeksAhead({ weeks: 2 })).open.slice(0, 2)
    const { startAt, endAt } = await carving()
    expect(endAt! - startAt!).toBe(6 * 60)
    expect((await saturday())[0]).toEqual({ from: startAt, to: startAt! + 8 * 60 })

    await goTo(app, '#/almanac')
    await page
      .getByRole('navigation', { name: 'Pages of the Almanac' })
      .getByRole('button', { name: 'Stations' })
      .click()
    const lunch = page.getByRole('textbox', { name: 'Break in a long session' })
    await lunch.fill('60')
    await lunch.press('Enter')
    // An hour in the middle of eight: half past twelve to half past one.
    await expect.poll(saturday).toEqual([
      { from: startAt, to: startAt! + 210 },
      { from: startAt! + 270, to: startAt! + 8 * 60 },
    ])
    await expect.poll(async () => (await carving()).endAt).toBe(endAt! + 60)
    expect((await carving()).startAt).toBe(startAt)

    await page.getByRole('button', { name: /^back to .*Break in a long session/ }).click()
    await expect.poll(async () => (await carving()).endAt).toBe(endAt)
  })
})

describe('the warm-up of an evening', () => {
  test('that is typed in the Almanac by keyboard begins the evening later in Weeks ahead, until it is taken back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const first = async () => valueOf(await desk.commission({ id })).pieces[0]!.steps[0]!
    const evening = async () => valueOf(await desk.bench({ rows: 24 })).session!
    const before = { step: await first(), session: await evening() }
    expect(before.step.startAt).toBe(before.session.fromAt)
    const openSessions = async () => {
      await goTo(app, '#/almanac')
      await tabTo(page, /^Stations/, FAR)
      await page.keyboard.press('Enter')
      await page.getByRole('heading', { name: 'Time in the shop that is no work' }).waitFor()
    }
    const readsInWeeks = async (time: string) => {
      await goTo(app, '#/weeks')
      await page.getByRole('radio', { name: 'written out' }).press(' ')
      await page
        .getByRole('listitem')
        .filter({ hasText: /Cut the boards/ })
        .getByText(time)
        .waitFor()
    }
    await readsInWeeks('7:00 PM to 7:30 PM')

    await openSessions()
    await tabTo(page, /^Warm-up before the first step/, FAR)
    const typed = page.getByRole('textbox', { name: 'Warm-up before the first step' })
    await page.keyboard.press('Control+A')
    await page.keyboard.type('a while')
    await page.keyboard.press('Enter')
    await page.getByText('Warm-up before the first step: “a while” is not a number like 12.').waitFor()
    await page.keyboard.press('Control+A')
    await page.keyboard.type('20')
    await page.keyboard.press('Enter')
    await expect.poll(evening).toEqual({ ...before.session, fromAt: before.session.fromAt + 20 })
    await expect.poll(() => typed.inputValue()).toBe('20')
    // The hours are kept before the plan that follows from them is there.
    await expect.poll(first).toMatchObject({ startAt: before.step.startAt! + 20, endAt: before.step.endAt! + 20 })
    await readsInWeeks('7:20 PM to 7:50 PM')

    await openSessions()
    await tabTo(page, /^back to 0/, FAR)
    await page.keyboard.press('Enter')
    await expect.poll(evening).toEqual(before.session)
    await readsInWeeks('7:00 PM to 7:30 PM')
    await expect.poll(first).toEqual(before.step)
  })
})
