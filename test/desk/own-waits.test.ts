import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()
const DAY = 24 * 60

const dryingRow = async ({ ask }: TestDesk) => (await ask.rack()).waiting.find(({ state }) => state === 'drying')!

async function aBoardInOil(one: TestDesk): Promise<void> {
  const draft = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'edge-grain-board')] })
  await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
}

test('three coats that stayed tacky ask whether to go by them; accepted, waits are longer, and undo gives the label back', async () => {
  const one = await aDesk()
  const { ask, setClock } = one
  await aBoardInOil(one)
  for (const coat of ['First coat', 'Second coat', 'Third coat']) {
    const end = await workUntil(one, coat)
    const { tackyStepId } = await dryingRow(one)
    const figure = (await dryingRow(one)).readyAt! - end
    await setClock(at(end + figure))
    await ask.stepStillTacky({ stepId: tackyStepId!, minutes: 60 })
    await setClock(at(end + 2 * figure))
    await ask.stepFoundReady({ stepId: tackyStepId! })
    expect((await dryingRow(one)).advice.kind).toBe('ready')
  }
  const [found] = (await ask.yourWaits()).waits
  expect(found).toMatchObject({ product: 'wiping_oil_varnish', wait: 'drying', count: 3, use: null, asks: true })
  expect(found!.factor).toBeCloseTo(1.5, 1)

  const { entryId } = await ask.waitUse({ product: 'wiping_oil_varnish', wait: 'drying', use: 'own' })
  expect((await ask.yourWaits()).waits[0]).toMatchObject({ use: 'own', asks: false })
  await aBoardInOil(one)
  const end = await workUntil(one, 'First coat')
  // 24 h at reference conditions (waits.csv, wiping_oil_varnish recoat_min), half as long again here.
  expect((await dryingRow(one)).readyAt! - end).toBe(found!.factor * DAY)
  await ask.undo({ entryId: entryId! })
  expect((await dryingRow(one)).readyAt! - end).toBe(DAY)
})

test('what is found ready early may be gone on with at once, and the press can be taken back', async () => {
  const one = await aDesk()
  const { ask, call, setClock } = one
  await aBoardInOil(one)
  const end = await workUntil(one, 'First coat')
  const row = await dryingRow(one)
  await setClock(at(end + 15 * 60))
  expect(await call.stepStart({ stepId: row.next!.stepId })).toMatchObject({ ok: false })
  await ask.stepFoundReady({ stepId: row.tackyStepId! })
  expect(await dryingRow(one)).toMatchObject({ advice: { kind: 'ready' }, readyAt: end + 15 * 60 })
  expect((await dryingRow(one)).next!.plannedAt).toBeLessThanOrEqual(row.next!.plannedAt!)
  const { entryId } = (await ask.bench({ rows: 24 })).lastAction!
  expect(await call.stepStart({ stepId: row.next!.stepId })).toMatchObject({ ok: true })
  await ask.undo({ entryId: (await ask.bench({ rows: 24 })).lastAction!.entryId })
  await ask.undo({ entryId })
  expect(await dryingRow(one)).toMatchObject({ readyAt: row.readyAt })
})
