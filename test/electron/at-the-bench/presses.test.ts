import { createHash, X509Certificate } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { expect, onTestFinished, test } from 'vitest'
import type { KeptDevices } from '../../../db/kept-devices.ts'
import { aDraft } from '../../desk/support/a-desk.ts'
import { aDeskWithDoor, connectTo, type OpenDoorDesk, type Phone } from './support.ts'

const MINUTE_MS = 60_000

/** The step that the Bench would have first, and its order. */
async function firstStep({ ask }: OpenDoorDesk): Promise<{ stepId: string; id: string }> {
  const [order] = (await ask.orderBook()).open
  const { pieces } = await ask.commission({ id: order!.commissionId })
  return { stepId: pieces[0]!.steps[0]!.stepId, id: order!.commissionId }
}

const history = async ({ ask }: OpenDoorDesk, id: string) =>
  (await ask.commission({ id })).history.map(({ text, who, atMs }) => ({ text, who, atMs }))

const press = (key: string, ageMs: number) => ({ key: `press-${key}`, ageMs })

test('the log says which device a press came from, and the desk’s own say none', async () => {
  const desk = await aDeskWithDoor()
  const { stepId, id } = await firstStep(desk)
  const phone = await desk.pair('Phone', 'press')
  expect(await phone.call('stepStart', { stepId })).toMatchObject({ ok: true })
  await desk.ask.stepDone({ stepId })
  const [done, started] = await history(desk, id)
  expect(started!.who).toMatch(/on Phone$/)
  expect(done!.who ?? '').not.toContain('Phone')
})

test('presses that waited are kept in their order, each at its own time', async () => {
  const desk = await aDeskWithDoor()
  const { stepId, id } = await firstStep(desk)
  await desk.setClock('2026-03-04T02:00:00Z')
  const phone = await desk.pair('Phone', 'press')
  const sent = await Promise.all([
    phone.call('stepStart', { stepId }, press('start', 40 * MINUTE_MS)),
    phone.call('stepPause', { stepId }, press('pause', 25 * MINUTE_MS)),
    phone.call('stepStart', { stepId }, press('again', 10 * MINUTE_MS)),
  ])
  expect(sent.map(({ ok }) => ok)).toEqual([true, true, true])
  const at = (await history(desk, id)).slice(0, 3).map(({ text, atMs }) => [text.split(':')[0], atMs])
  const now = Date.parse('2026-03-04T02:00:00Z')
  const minutesAgo = at.map(([word, atMs]) => [word, Math.round((now - Number(atMs)) / MINUTE_MS)])
  expect(minutesAgo).toEqual([
    ['Started', 10],
    ['Paused', 25],
    ['Started', 40],
  ])
})

test('a press that is sent twice counts once, also when both come at the same moment', async () => {
  const desk = await aDeskWithDoor()
  const { stepId, id } = await firstStep(desk)
  const phone = await desk.pair('Phone', 'press')
  const before = (await history(desk, id)).length
  const replies = await Promise.all([1, 2, 3].map(() => phone.call('stepStart', { stepId }, press('one', 0))))
  expect(replies.every(({ ok }) => ok)).toBe(true)
  expect(await history(desk, id)).toHaveLength(before + 1)
})

test('a desk that stops after it took on own times, before the press, has not the press: it counts when it is sent again', async () => {
  const desk = await aDeskWithDoor()
  const { ask, setClock } = desk
  await ask.timesFollow({ follow: 'by-themselves' })
  const ripping: string[] = []
  for (let order = 0; order < 4; order++) {
    const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-12-01' })
    const steps = (await ask.commission({ id: commissionId })).pieces.flatMap((piece) => piece.steps)
    ripping.push(steps.find(({ name }) => name === 'Rip the strips')!.stepId)
  }
  const startAt = async (stepId: string, day: number) => {
    await setClock(`2026-03-1${day}T01:00:00Z`)
    await ask.stepStart({ stepId, anyway: true })
    await setClock(`2026-03-1${day}T01:40:00Z`)
  }
  for (const [day, stepId] of ripping.slice(0, 3).entries()) {
    await startAt(stepId, day)
    await ask.stepDone({ stepId, anyway: true })
  }
  const phone = await desk.pair('Phone', 'press')
  const stepId = ripping[3]!
  await startAt(stepId, 3)
  const done = () => phone.call('stepDone', { stepId, anyway: true }, press('done', 0))
  const decided = async () => (await ask.almanac()).almanac.times.decisions.length

  const file = new SqliteFile(join(desk.folder, 'shop.sqlite'))
  onTestFinished(() => void file.close())
  // The write of the press ends before it has begun, as in a power cut.
  file.exec(
    `create trigger cut before insert on log when new.action = 'step-done' begin select raise(abort, 'cut'); end`,
  )
  expect(await done()).toMatchObject({ ok: false })
  file.exec('drop trigger cut')
  expect(await decided()).toBe(1)
  expect(await done()).toMatchObject({ ok: true, value: { said: expect.stringMatching(/^Done/) } })
  expect(await done()).toMatchObject({ ok: true, value: { said: 'This was kept already.' } })
})

test('the key of another device’s press is no key of this one’s', async () => {
  const desk = await aDeskWithDoor()
  const { stepId } = await firstStep(desk)
  const [first, second] = [await desk.pair('Phone', 'press'), await desk.pair('Tablet', 'press')]
  await first.call('stepStart', { stepId }, press('one', 0))
  expect(await second.call('stepStart', { stepId }, press('one', 0))).toMatchObject({
    ok: false,
    problems: [{ code: 'already-running' }],
  })
})

test.each([
  ['from tomorrow', { key: 'press-1', ageMs: -MINUTE_MS }],
  ['older than a week', { key: 'press-1', ageMs: 8 * 24 * 60 * MINUTE_MS }],
  ['without a key', { ageMs: 0 }],
  ['with a key that is a sentence', { key: `' or 1=1 --`, ageMs: 0 }],
  ['that is a text', 'now'],
])('a press %s is refused', async (_, sent) => {
  const desk = await aDeskWithDoor()
  const { stepId } = await firstStep(desk)
  const phone = await desk.pair('Phone', 'press')
  expect(await phone.call('stepStart', { stepId }, sent)).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-input' }],
  })
})

test('only presses at a step may wait: an order sent later would be quoted for another day', async () => {
  const desk = await aDeskWithDoor()
  const phone = await desk.pair('Phone', 'orders')
  expect(await phone.call('takeOrder', {}, press('order', 0))).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-input' }],
  })
})

test('a failure that waited is kept once, at its own time; what was begun at the desk meanwhile ends no sooner than it began', async () => {
  const desk = await aDeskWithDoor()
  const { stepId, id } = await firstStep(desk)
  const now = Date.parse('2026-03-04T02:00:00Z')
  await desk.setClock(new Date(now - 60 * MINUTE_MS).toISOString())
  await desk.ask.stepDone({ stepId, anyway: true, workedMin: 10 })
  const second = (await desk.ask.commission({ id })).pieces[0]!.steps[1]!
  await desk.setClock(new Date(now - 10 * MINUTE_MS).toISOString())
  await desk.ask.stepStart({ stepId: second.stepId, anyway: true })
  await desk.setClock(new Date(now).toISOString())
  const phone = await desk.pair('Phone', 'press')
  const failure = { stepId, fromStepId: stepId, count: second.count, reason: 'crack', note: 'split' }
  const sent = await Promise.all([1, 2].map(() => phone.call('stepFailed', failure, press('failed', 30 * MINUTE_MS))))
  expect(sent).toMatchObject([{ ok: true }, { ok: true }])
  const told = (await history(desk, id)).filter(({ text }) => text.startsWith('Failed'))
  expect(told.map(({ atMs, who }) => [Math.round((now - atMs) / MINUTE_MS), who])).toEqual([[30, 'on Phone']])
  const { steps } = (await desk.ask.commission({ id })).pieces[0]!
  const ended = steps.find((step) => step.stepId === second.stepId)!
  expect([ended.lost, ended.state]).toEqual([true, 'done'])
  expect(ended.work.every(({ fromAt, toAt }) => toAt !== null && toAt >= fromAt)).toBe(true)
  expect(steps.filter(({ lost }) => !lost).map(({ state }) => state)).not.toContain('done')
})

test('a device takes back what it did itself, nothing else', async () => {
  const desk = await aDeskWithDoor()
  const { stepId } = await firstStep(desk)
  const phone = await desk.pair('Phone', 'press')
  const byDesk = await desk.ask.stepStart({ stepId })
  const undo = (who: Phone, entryId: number | null) => who.call('undo', { entryId })
  expect(await undo(phone, byDesk.entryId)).toMatchObject({ ok: false, problems: [{ code: 'not-yours' }] })
  const paused = (await phone.call('stepPause', { stepId })) as unknown as { value: { entryId: number } }
  expect(await undo(phone, paused.value.entryId)).toMatchObject({ ok: true })
})

test('a helper tells by their own phone that they are not coming, and takes it back there', async () => {
  const desk = await aDeskWithDoor()
  const [maker] = (await desk.ask.almanac()).almanac.makers
  const phone = await desk.pair('Phone', 'press')
  const daysOff = async () => (await desk.ask.almanac()).almanac.specialDays
  const before = await daysOff()
  const away = (await phone.call('makerAway', { makerId: maker!.id, away: true })) as unknown as {
    value: { entryId: number }
  }
  expect(await daysOff()).not.toEqual(before)
  expect(await phone.call('undo', { entryId: away.value.entryId })).toMatchObject({ ok: true })
  expect(await daysOff()).toEqual(before)
})

test('the certificate that is served is the one whose fingerprint the desk shows, good for this address alone', async () => {
  const desk = await aDeskWithDoor()
  const { fingerprint } = await desk.ask.devices()
  const socket = await connectTo(desk.port)
  const served = new X509Certificate(socket.getPeerCertificate().raw)
  socket.destroy()
  expect(fingerprint).toBe(createHash('sha256').update(served.raw).digest('hex').toUpperCase().match(/../g)!.join(':'))
  expect(fingerprint).toBe(served.fingerprint256)
  expect(served.checkIP('127.0.0.1')).toBe('127.0.0.1')
  expect(served.checkIP('127.0.0.2')).toBeUndefined()
  expect(served.ca).toBe(false)
  expect(served.verify(served.publicKey)).toBe(true)
  const { identity } = JSON.parse(readFileSync(join(desk.folder, 'devices.json'), 'utf8')) as KeptDevices
  expect(served.checkPrivateKey((await import('node:crypto')).createPrivateKey(identity!.privateKey))).toBe(true)
})

test('switched off and on again, and after closing, it is the same certificate', async () => {
  const desk = await aDeskWithDoor()
  const { fingerprint } = await desk.ask.devices()
  await desk.ask.devicesOff()
  expect(await desk.ask.devicesOn({ address: '127.0.0.1' })).toMatchObject({ fingerprint })
  await desk.desk.close()
  const again = await aDeskWithDoor(desk.folder)
  expect(await again.ask.devices()).toMatchObject({ fingerprint })
})
