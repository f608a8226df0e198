import { expect, test } from 'vitest'
import { aDesk, aDraft, aFolder, type TestDesk } from './support/a-desk.ts'

const BEGUN = Date.parse('2026-03-06T01:00:00Z')
const HOUR = 3_600_000

const row = { minutes: '30 min', kind: 'machine', wait: '', atMost: '', after: '', dusty: false, units: '' }
const rows = ['Cut the boards', 'Plane them'].map((name) => ({ ...row, name }))
const shelf = { construction: 'free-list', count: '1', input: { title: 'Wall shelf', rows } }

/** Everything that is told of customers, closed orders and work that is over. What plans and odds decide is left out. */
async function told({ ask }: Pick<TestDesk, 'ask'>) {
  const { hoursAhead: _, ...tally } = await ask.tally()
  const { closedCount } = await ask.orderBook()
  return {
    tally,
    owed: await ask.owed(),
    due: await ask.peopleDue(),
    year: await ask.year({ year: null }),
    yearOfWork: await ask.year({ year: 2026 }),
    customers: await ask.customers({ sought: '', within: 'all', count: 50 }),
    ...{ closedCount, closed: await ask.closedOrders({ count: 50 }) },
  }
}

test('what is kept from one look to the next is what a desk tells that has just been opened', async () => {
  const folder = aFolder()
  let desk = await aDesk({ folder })
  let nowMs = BEGUN
  const at = async (ms: number): Promise<void> => {
    nowMs = ms
    await desk.setClock(new Date(ms).toISOString())
  }
  /** Looks, so that something is kept; presses; looks again, and compares that with a desk that has nothing kept. */
  const holds = async (press: () => Promise<unknown>): Promise<void> => {
    await at(nowMs + HOUR)
    await told(desk)
    await press()
    const kept = await told(desk)
    await desk.desk.close()
    desk = await aDesk({ folder, at: new Date(nowMs).toISOString() })
    expect(kept).toEqual(await told(desk))
  }
  const order = async (name: string): Promise<string> => {
    const customer = { ...aDraft().customer, name, reach: `${name}@example.org`, secondReach: '' }
    const draft = aDraft({ customer, pieces: [shelf], price: '420', deposit: '200', depositHow: 'cash' })
    return (await desk.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-03-27' })).commissionId
  }
  const firstSteps = async (id: string) =>
    (await desk.ask.commission({ id })).pieces.flatMap(({ steps }) => steps.map(({ stepId }) => stepId))
  await at(BEGUN)
  const [ada, ben] = [await order('Ada Quist'), await order('Ben Vale')]
  const [first, second] = (await firstSteps(ada)) as [string, string]

  await holds(() => desk.ask.stepStart({ stepId: first, anyway: true }))
  let done = { entryId: null as number | null }
  await holds(async () => (done = await desk.ask.stepDone({ stepId: first, anyway: true })))
  await holds(() => desk.ask.undo({ entryId: done.entryId! }))
  await holds(async () => {
    await desk.ask.stepDone({ stepId: first, anyway: true })
    await desk.ask.stepStart({ stepId: second, anyway: true })
  })
  await holds(() => desk.ask.stepDone({ stepId: second, anyway: true }))
  await holds(() => desk.ask.commissionHandOver({ id: ada }))
  const day = new Date(nowMs).toISOString().slice(0, 10)
  await holds(() =>
    desk.ask.moneyEnter({ id: ada, money: { kind: 'payment', amount: '120', how: 'cash', day, reference: '' } }),
  )
  await holds(() =>
    desk.ask.moneyEnter({ id: ben, money: { kind: 'payment', amount: '420', how: 'cash', day, reference: '' } }),
  )
  const form = { kind: 'invoice', text: '', newDay: '', amends: '', credit: '' } as const
  await holds(() => desk.ask.paperIssue({ id: ada, form }))
  await holds(() => desk.ask.yearFigure({ year: 2026, name: 'supplies', typed: '41.20' }))
  const board = { wood: 'cherry', thickness: '8/4', width: '8', length: "8'", flaws: '', quality: '', place: '' }
  await holds(() =>
    desk.ask.boardsAdd({ board: { ...board, price: '96', moisture: '' }, count: '2', photo: { kind: 'none' } }),
  )
  await holds(() => desk.ask.almanacChangeFact({ key: 'money.tax1.rate', input: '20' }))
  await holds(() => desk.ask.commissionReopen({ id: ada }))
  await holds(() => desk.ask.stepPutRight({ stepId: first, stretches: [], isDone: true }))
  await holds(() => desk.ask.commissionHandOver({ id: ada }))
  await holds(() => order('Cleo Ames'))
  // Years later both who are closed are due.
  await at(Date.parse('2036-03-06T01:00:00Z'))
  await holds(() => Promise.resolve())
  expect((await told(desk)).due.due.map(({ name }) => name)).toEqual(['Ada Quist'])
  const [customer] = (await told(desk)).due.due
  await holds(() => desk.ask.personErase({ id: customer!.customerId, fromPapersKeptByLaw: true }))
  expect((await told(desk)).due.due).toEqual([])
})
