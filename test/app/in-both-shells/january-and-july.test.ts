import { ALMANAC_HOME } from '../../../core/almanac/home.ts'
import { expect } from 'vitest'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { test, type OpenApp } from '../../support/app.ts'
import { goTo, valueOf } from '../support/small-order.ts'
import type { Draft } from '../../../desk/orders/draft.ts'

/** Tuesdays at noon in Chicago. */
const january = '2026-01-13T18:00:00Z'
const july = '2026-07-14T17:00:00Z'

/** Dry winters and damp summers, as in many continental climates; the temperatures are those that a new shop starts with. */
const dryWinters = '40 %, 40 %, 45 %, 50 %, 60 %, 70 %, 75 %, 75 %, 65 %, 55 %, 45 %, 40 %'

const tray: Draft = {
  customer: {
    name: 'Ada Quist',
    reach: '555-0100',
    secondReach: '',
    address: '',
    allergies: '',
    childUnder3: 'not-asked',
  },
  takenWhere: 'phone',
  pieces: [
    {
      construction: 'framed-field',
      input: {
        ...constructionOf('framed-field')?.starting('inch'),
        ...{ fieldKind: 'staves', woodA: 'maple', length: '16', width: '12', stave: '4' },
      },
      count: '1',
    },
  ],
  neededBy: '',
  neededWhy: '',
  notes: '',
  home: ALMANAC_HOME,
  price: '',
  deposit: '',
  depositHow: '',
}

interface Ordered {
  readonly days: number
  readonly grooveNm: number
  /** What the screens say of the groove and of the first wait when they are asked why. */
  readonly sayOfGroove: readonly string[]
  readonly sayOfWait: string
}

/** Talks an order over on New order, takes it, looks at it as a commission, and calls it off again. */
async function order(app: OpenApp, at: string): Promise<Ordered> {
  const { page, desk } = app
  valueOf(await desk.testSetClock({ now: at }))
  valueOf(await desk.draftSave({ draft: tray }))
  await goTo(app, '#/new-order')
  await page.getByText('Cut sizes and wood movement').click()
  const groove = page.locator('dl > div', { hasText: 'Groove in the field at least' })
  await groove.locator('summary').click()
  const onNewOrder = await groove.innerText()

  const { commissionId } = valueOf(await desk.takeOrder({ draft: tray, standing: 'agreed', promisedFor: null }))
  await goTo(app, `#/commission/${commissionId}`)
  await groove.locator('summary').click()
  const onCommission = await groove.innerText()
  const wait = page.locator('.wait', { hasText: 'glue curing' }).first()
  await wait.locator('summary').click()
  const sayOfWait = await wait.innerText()

  const { doneAt, pieces } = valueOf(await desk.commission({ id: commissionId }))
  const value = pieces[0]?.geometry.find(({ key }) => key === 'groove')?.value
  valueOf(await desk.commissionCallOff({ id: commissionId }))
  return {
    days: ((doneAt ?? Number.NaN) - Date.parse(at) / 60_000) / 1440,
    grooveNm: value?.kind === 'length' ? value.nm : Number.NaN,
    sayOfGroove: [onNewOrder, onCommission],
    sayOfWait,
  }
}

test(
  'a framed field ordered in January, where nights are cold, is done later and has a deeper groove than in July, and the screens say why',
  { timeout: 240_000 },
  async ({ openApp }) => {
    const app = await openApp({ clock: january })
    const { desk } = app
    const steady = await order(app, january)
    valueOf(await desk.almanacChangeFact({ key: 'air.heated', input: 'for-work' }))
    valueOf(await desk.almanacChangeFact({ key: 'air.unheatedRh', input: dryWinters }))

    const winter = await order(app, january)
    const summer = await order(app, july)

    // Cold nights cost days of waiting, against July and against a shop that is heated night and day.
    expect(winter.days).toBeGreaterThan(summer.days + 2)
    expect(winter.days).toBeGreaterThan(steady.days + 2)
    // Glue that has set goes on curing in the cold, only slower: what it must not be is applied there.
    expect(winter.sayOfWait).toMatch(/In this shop it takes 2 days .*, as it is heated only while somebody works/)
    expect(summer.sayOfWait).not.toMatch(/heated only/)

    // Dry winter wood has more to grow by: the groove is deeper.
    expect(winter.grooveNm).toBeGreaterThan(summer.grooveNm)
    for (const [said, month] of [
      ...winter.sayOfGroove.map((text) => [text, /in (January|February)/] as const),
      ...summer.sayOfGroove.map((text) => [text, /in July/] as const),
    ]) {
      expect(said).toMatch(/Wood at \d+\.\d% when built/)
      expect(said).toMatch(month)
      expect(said).toMatch(/In the customer’s home it goes from 6\.2% .* to 10\.9%/)
      expect(said).toMatch(/Source: .*Wood Handbook/)
    }
  },
)
