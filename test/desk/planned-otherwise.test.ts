import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

const HALL = {
  ...{ id: '', name: 'Hall', kind: 'house', temperature: '20 C', humidity: '45 %' },
  ...{ capacity: '4', carry: '5 min', inPlans: false },
}

/** A shop in which somebody is at every hour, so that only waits decide, with one order in it. */
async function anOrder(
  input: Readonly<Record<string, string | boolean>>,
  facts: Readonly<Record<string, string>> = {},
  place: Partial<typeof HALL> | null = null,
): Promise<TestDesk & { readonly id: string }> {
  const one = await aDesk()
  const maker = (await one.ask.almanac()).almanac.makers[0]!
  const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '0:00', to: '24:00' }))
  await one.ask.almanacSave({ list: 'makers', item: { id: maker.id, name: maker.name, attendance: '90 %', hours } })
  for (const [key, text] of Object.entries(facts)) await one.ask.almanacChangeFact({ key, input: text })
  if (place !== null) await one.ask.almanacSave({ list: 'places', item: { ...HALL, ...place } })
  const draft = aDraft({ pieces: [aPiece({ food: false, ...input }, 'edge-grain-board')] })
  const { commissionId } = await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  return { ...one, id: commissionId }
}

const helpOf = async ({ ask, id }: Awaited<ReturnType<typeof anOrder>>): Promise<string> =>
  (await ask.whatWouldHelp({ id })) ?? ''

// 59 °F is the band in which oil takes half as long again, 68 °F and 45 % the one in which it does not (reference/waits.md, 3.2).
test('a place that plans do not use yet is named where it gains half a day, and planned as it then would be', async () => {
  const cool = { 'shop.temperature': '15 C' }
  const one = await anOrder({ finish: 'tung_pure' }, cool, {})
  const said = await helpOf(one)
  expect(said).toMatch(/^Dry it in Hall: done .+ sooner\.$/)
  const inPlans = await anOrder({ finish: 'tung_pure' }, cool, { inPlans: true })
  const [shop, hall] = [
    (await one.ask.commission({ id: one.id })).doneAt!,
    (await inPlans.ask.commission({ id: inPlans.id })).doneAt!,
  ]
  const days = Number(/(\d+) days? sooner/.exec(said)?.[1])
  expect(Math.floor((shop - hall) / 1440)).toBe(days)
  // No solvent where people live, and nothing gained in a place that is no warmer.
  expect(await helpOf(await anOrder({ finish: 'oil_polyurethane' }, cool, {}))).not.toMatch(/Hall/)
  expect(await helpOf(await anOrder({ finish: 'tung_pure' }, cool, { temperature: '15 C' }))).not.toMatch(/Hall/)
})

test('another finish of the same use is named while no coat is on, and not once one is', async () => {
  const one = await anOrder({ finish: 'wiping_oil_varnish' })
  expect(await helpOf(one)).toMatch(/^Use Hardwax oil instead of Wiping oil-varnish: done .+ sooner\.$/)
  await workUntil(one, 'First coat')
  expect(await helpOf(one)).not.toMatch(/instead of/)
})

test('another glue is named where it is soon enough and stands as much water', async () => {
  const slow = { 'glues.epoxy_slow.mayMachine': '96 h' }
  expect(await helpOf(await anOrder({ glue: 'epoxy_slow', finish: 'shellac' }, slow))).toMatch(
    /^Use (Waterproof PVA|Polyurethane) glue instead of Slow epoxy: done .+ sooner\.$/,
  )
})
