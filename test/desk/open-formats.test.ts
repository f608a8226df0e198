import { readdirSync } from 'node:fs'
import ICAL from 'ical.js'
import { describe, expect, test } from 'vitest'
import { writeCsv } from '../../desk/open-formats/write-csv.ts'
import { aDesk, aDraft, type TestDesk } from './support/a-desk.ts'
import { bring, taken } from './support/take-along.ts'

/** Rows of a CSV text, read as RFC 4180 says. */
const lines = (csv: string): string[][] =>
  csv
    .replace('\ufeff', '')
    .trimEnd()
    .split('\r\n')
    .map((line) =>
      [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^",]*))/g)].map(
        ([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain ?? '',
      ),
    )

async function aShop() {
  const desk = await aDesk()
  const draft = aDraft({ price: '400', deposit: '120', depositHow: 'cash' })
  const { commissionId: id } = await desk.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  return { ...desk, id }
}

describe('CSV', () => {
  test('is RFC 4180 with formulas made harmless and numbers left alone', () => {
    const csv = writeCsv(
      {
        columns: ['a', 'b', 'c'],
        rows: [
          ['=SUM(A1)', `O'Neil, "Bo"`, -1850n],
          ['\n=1', 'two\nlines', null],
        ],
      },
      2,
    )
    // E39 of money-and-papers; OWASP ASVS 1.2.10 for the line feed in front.
    expect(csv).toBe(`\ufeffa,b,c\r\n'=SUM(A1),"O'Neil, ""Bo""",-18.50\r\n"'\n=1","two\nlines",\r\n`)
  })

  test.each([
    [2, -1850n, '-18.50'],
    [0, 12500n, '12500'],
    [3, 1250n, '1.250'],
  ])('with %i decimals an amount is written whole', (decimals, minor, written) => {
    expect(writeCsv({ columns: ['a'], rows: [[minor]] }, decimals)).toContain(`\r\n${written}\r\n`)
  })

  test('orders and money add up to what the app shows', async () => {
    const shop = await aShop()
    await shop.ask.moneyEnter({
      id: shop.id,
      money: { kind: 'refund', amount: '20', how: 'card', day: '', reference: '' },
    })
    const [head = [], order = []] = lines(await taken(shop, 'orders'))
    const field = (name: string) => order[head.indexOf(name)]
    expect(field('order')).toBe('1')
    expect([field('total'), field('paid'), field('owed'), field('currency')]).toEqual([
      '400.00',
      '100.00',
      '300.00',
      'USD',
    ])
    const money = lines(await taken(shop, 'money'))
    expect(money.slice(1).map((row) => [row[3], row[4], row[6]])).toEqual([
      ['payment', '120.00', 'cash'],
      ['refund', '-20.00', 'card'],
    ])
  })

  test('hours tell who worked on what, from when to when', async () => {
    const shop = await aShop()
    const { canStart } = await shop.ask.bench({ rows: 24 })
    const stepId = canStart[0]!.stepId
    await shop.ask.stepStart({ stepId })
    await shop.setClock('2026-03-03T15:40:00Z')
    await shop.ask.stepDone({ stepId })
    const [head = [], row = []] = lines(await taken(shop, 'hours'))
    expect(row[head.indexOf('minutes')]).toBe('40')
    expect(row[head.indexOf('day')]).toBe('2026-03-03')
    expect(row[head.indexOf('from')]).toBe('2026-03-03T15:00:00.000Z')
  })

  test('the almanac and the stock are there', async () => {
    const shop = await aShop()
    expect(lines(await taken(shop, 'almanac')).length).toBeGreaterThan(100)
    expect(lines(await taken(shop, 'stock'))).toHaveLength(1)
  })
})

describe('iCalendar', () => {
  test('ends every line with CRLF and folds at 75 octets', async () => {
    const text = await taken(await aShop(), 'calendar')
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true)
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
    expect(Math.max(...text.split('\r\n').map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(75)
  })

  test('has the promise as a whole day, and shop time and waits by the hour, read by another library', async () => {
    const shop = await aShop()
    const events = await eventsOf(shop)
    const promise = events.find(({ summary }) => summary.startsWith('Promised:'))!
    expect(promise.summary).toContain('No. 1, Ada Quist')
    expect([promise.startDate.isDate, promise.startDate.toString(), promise.endDate.toString()]).toEqual([
      true,
      '2026-06-20',
      '2026-06-21',
    ])
    expect(promise.sequence).toBe(0)
    const { fromAt } = await shop.ask.weeksAhead({ weeks: 1 })
    expect(fromAt).toBeGreaterThan(0)
    const session = events.find(({ summary }) => summary.startsWith('In the shop'))!
    // The shop opens at 19:00 in Chicago, which is 01:00 in Greenwich.
    expect(session.startDate.toString()).toBe('2026-03-04T01:00:00Z')
    expect(events.some(({ summary }) => /clamps|cur|dry/i.test(summary))).toBe(true)
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length)
  })

  test('another day keeps the identity and moves the sequence on; an order that is called off is canceled', async () => {
    const shop = await aShop()
    const uid = (await promiseIn(shop)).uid
    await shop.ask.commissionChange({ id: shop.id, changes: { promisedFor: '2026-06-27' } })
    const moved = await promiseIn(shop)
    expect([moved.uid, moved.sequence, moved.startDate.toString()]).toEqual([uid, 1, '2026-06-27'])
    await shop.ask.commissionCallOff({ id: shop.id })
    const gone = await promiseIn(shop)
    expect([gone.uid, gone.component.getFirstPropertyValue('status')]).toEqual([uid, 'CANCELLED'])
    expect(gone.sequence).toBeGreaterThan(1)
  })
})

const eventsOf = async (shop: TestDesk): Promise<ICAL.Event[]> =>
  new ICAL.Component(ICAL.parse(await taken(shop, 'calendar')) as unknown[] as never)
    .getAllSubcomponents('vevent')
    .map((component) => new ICAL.Event(component))

const promiseIn = async (shop: TestDesk): Promise<ICAL.Event> =>
  (await eventsOf(shop)).find(({ summary }) => summary.startsWith('Promised:'))!

describe('a whole shop', () => {
  test('taken out of one and brought into another is the same shop', async () => {
    const shop = await aShop()
    const text = await taken(shop, 'everything')
    const other = await aDesk()
    expect(await bring(other, text)).toEqual({ ok: true, value: null })
    expect(await taken(other, 'everything')).toBe(text)
    expect((await other.ask.orderBook()).open[0]).toMatchObject({ number: 1, customer: 'Ada Quist', owedMinor: 28_000 })
  })

  test('takes no work away: the book from before is kept and can be opened again', async () => {
    const text = await taken(await aShop(), 'everything')
    const other = await aDesk()
    await other.ask.takeOrder({
      draft: aDraft({ customer: { ...aDraft().customer, name: 'Tam Reyes' } }),
      standing: 'agreed',
      promisedFor: null,
    })
    expect((await bring(other, text)).ok).toBe(true)
    const [before] = (await other.ask.backups()).filter(({ reason }) => reason === 'set-aside')
    await other.ask.openBackup({ file: before!.file })
    expect((await other.ask.orderBook()).open.map(({ customer }) => customer)).toEqual(['Tam Reyes'])
  })

  test.each([
    ['cut short', (text: string) => text.slice(0, -200), 'import-damaged'],
    ['of something else', () => '{"name":"package"}', 'import-foreign'],
  ])('a file that is %s changes nothing', async (_, spoil, code) => {
    const shop = await aShop()
    const text = await taken(shop, 'everything')
    expect(await bring(shop, spoil(text))).toMatchObject({ ok: false, problems: [{ code }] })
    expect(await taken(shop, 'everything')).toBe(text)
    expect((await shop.ask.backups()).filter(({ reason }) => reason === 'set-aside')).toEqual([])
  })

  // JSON inside one cell: first where the table itself refuses it, then where only reading tells, then JSON of another form.
  test.each([
    ['paper', 'content', '{"kind":', /at tables › paper › 0 › content: it is not the JSON that belongs there/],
    ['shop_figure', 'value', '{"step":', /its orders or its Almanac cannot be read/],
    ['piece', 'spec', '[1,', /at tables › piece › 0 › spec/],
    ['step', 'cautions', '{}', /at tables › step › 0 › cautions/],
  ])(
    'a file with broken JSON in a cell of %s.%s is refused with its place, and nothing is changed',
    async (table, column, cell, said) => {
      const shop = await aShop()
      await shop.ask.paperIssue({ id: shop.id, form: { kind: 'quote', text: '', newDay: '', amends: '', credit: '' } })
      const text = await taken(shop, 'everything')
      const whole = JSON.parse(text) as { tables: Record<string, Record<string, unknown>[]>; sha256?: string }
      delete whole.sha256
      if (table === 'shop_figure') whole.tables[table] = [{ name: 'session', value: '' }]
      whole.tables[table]![0]![column] = cell
      const reply = await bring(shop, JSON.stringify(whole))
      expect(reply).toMatchObject({
        ok: false,
        problems: [{ code: 'import-damaged', message: expect.stringMatching(said) }],
      })
      expect(reply).toMatchObject({ problems: [{ message: expect.stringMatching(/Nothing was changed here\.$/) }] })
      expect(await taken(shop, 'everything')).toBe(text)
      expect((await shop.ask.orderBook()).open).toHaveLength(1)
      expect((await shop.ask.backups()).filter(({ reason }) => reason === 'set-aside')).toEqual([])
    },
  )

  test('what it lacks of the present book is told before it is opened; who leaves it has nothing of it left beside', async () => {
    const shop = await aShop()
    const text = await taken(shop, 'everything')
    await shop.ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-06-27' })
    await shop.ask.bringPart({ id: 'one', index: 0, text })
    const lacks = await shop.ask.bringLook({ id: 'one', parts: 1 })
    expect(lacks).toEqual({ orders: [{ number: 2, customer: aDraft().customer.name }], entries: 1 })
    const beside = () => readdirSync(shop.folder).filter((name) => name.includes('arrived'))
    expect(beside()).toContain('shop.sqlite-arrived')
    await shop.ask.bringCancel()
    expect(beside()).toEqual([])
    expect(await shop.call.bringIn({ id: 'one' })).toMatchObject({
      ok: false,
      problems: [{ code: 'import-incomplete' }],
    })
    expect((await shop.ask.orderBook()).open).toHaveLength(2)
  })

  test('a part that is missing is told', async () => {
    const shop = await aShop()
    await shop.ask.bringPart({ id: 'one', index: 0, text: '{' })
    const incomplete = { ok: false, problems: [{ code: 'import-incomplete' }] }
    expect(await shop.call.bringLook({ id: 'one', parts: 2 })).toMatchObject(incomplete)
    expect(await shop.call.bringIn({ id: 'one' })).toMatchObject(incomplete)
  })
})
