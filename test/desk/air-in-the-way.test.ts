import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const inTheWay = async ({ ask }: TestDesk): Promise<string> =>
  (await ask.shopState()).inTheWay.map(({ message }) => message).join()

const anOrder = async ({ ask }: TestDesk, finish: string) =>
  ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ finish }, 'edge-grain-board')] }),
    standing: 'agreed',
    promisedFor: null,
  })

test('in a shop that is never warm enough an order has no date, and it is said what would do', async () => {
  const { ask } = await aDesk()
  await ask.almanacChangeFact({ key: 'shop.temperature', input: '5 C' })
  const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  expect((await ask.commission({ id: commissionId })).doneAt).toBeNull()
  expect((await ask.shopState()).inTheWay.map(({ message }) => message).join()).toMatch(
    /should not be put on at 41 °F.*Warm the shop, dry it in a warmer place, or use Polyurethane glue/,
  )
})

test('in a shop that is too warm for its finish an order is told to be cooled, not to be warmed', async () => {
  const { ask } = await aDesk()
  await ask.almanacChangeFact({ key: 'shop.temperature', input: '95 F' })
  await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ finish: 'hardwax_oil' }, 'edge-grain-board')] }),
    standing: 'agreed',
    promisedFor: null,
  })
  const said = (await ask.shopState()).inTheWay.map(({ message }) => message).join()
  expect(said).toMatch(/^Too warm to put .* on at 95 °F\..* Cool the shop, /)
  expect(said).not.toMatch(/warmer|Warm the shop/)
})

test('in a shop whose working hours are too damp for a finish it is told to be aired and which finish would do, not to be warmed for longer', async () => {
  const one = await aDesk()
  await one.ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  await one.ask.almanacChangeFact({ key: 'shop.humidity', input: '70%' })
  // Lacquer blushes above 60 %; at night, when nobody is there, the air of some months is just dry enough.
  await anOrder(one, 'lacquer_nc')
  const said = await inTheWay(one)
  expect(said).toContain('The air never allows it that long while somebody is there. It gets too damp for Lacquer.')
  expect(said).toMatch(/Warm and air the shop, dry it in a drier place, or use /)
  expect(said).not.toMatch(/for longer|warmer/)
})
