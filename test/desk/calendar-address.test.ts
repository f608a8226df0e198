import { request } from 'node:http'
import { mkdtempSync, readFileSync, rmSync, statSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import ICAL from 'ical.js'
import { afterEach, describe, expect, test } from 'vitest'
import { CalendarAddress } from '../../desk/calendar-address/calendar-address.ts'
import { aDesk, aDraft } from './support/a-desk.ts'

interface Answer {
  readonly status: number
  readonly headers: Record<string, string | string[] | undefined>
  readonly body: string
}

/** As a calendar asks: with headers that a browser's fetch would not let one choose. */
const get = (address: string, { method = 'GET', headers = {} }: { method?: string; headers?: object } = {}) =>
  new Promise<Answer>((resolve, reject) => {
    const asked = request(address, { method, headers: { ...headers }, agent: false }, (response) => {
      let body = ''
      response.setEncoding('utf8').on('data', (part: string) => (body += part))
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, body }))
    })
    asked.on('error', reject).end()
  })

const open = new Set<CalendarAddress>()
const folders = new Set<string>()
afterEach(async () => {
  await Promise.all([...open].map((each) => each.close()))
  open.clear()
  for (const folder of folders) rmSync(folder, { recursive: true })
  folders.clear()
})

async function anAddress(
  folder = mkdtempSync(join(tmpdir(), 'calendar-')),
  write = () => Promise.resolve('BEGIN:VCALENDAR'),
) {
  const calendar = new CalendarAddress(folder, write)
  open.add(calendar)
  folders.add(folder)
  await calendar.open()
  return { folder, calendar }
}

async function on(calendar: CalendarAddress): Promise<string> {
  const made = await calendar.makeNew()
  return made.ok ? (made.value.address ?? '') : ''
}

describe('the address that calendars subscribe to', () => {
  test('is off until it is switched on, and then on this computer alone', async () => {
    const { ask } = await aDesk()
    expect(await ask.calendarAddress()).toEqual({ isOn: false, address: null, inTheWay: null })
    const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-06-20' })
    const { address } = await ask.calendarAddressNew()
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[\w-]{32}\/calendar\.ics$/)
    const { status, headers, body } = await get(address!)
    expect([status, headers['content-type'], headers['cache-control']]).toEqual([
      200,
      'text/calendar; charset=utf-8',
      'no-store',
    ])
    const events = new ICAL.Component(ICAL.parse(body) as unknown[]).getAllSubcomponents('vevent')
    const uids = events.map((event) => event.getFirstPropertyValue('uid'))
    expect(uids).toContain(`promise-${commissionId}@out-of-clamps`)
    await ask.calendarAddressOff()
    await expect(get(address!)).rejects.toThrow(/ECONNREFUSED/)
  })

  // Written to the device that is always full: no file system has to be made or filled for it.
  test.runIf(process.platform === 'linux')('on a full disk is as it was, with the cause said', async () => {
    const { folder, calendar } = await anAddress()
    const unfinished = join(folder, 'calendar-address.json.new')
    symlinkSync('/dev/full', unfinished)
    const refused = {
      ok: false,
      problems: [{ code: 'setting-not-kept', message: expect.stringContaining('no space') }],
    }
    expect(await calendar.makeNew()).toMatchObject(refused)
    expect(calendar.view()).toMatchObject({ isOn: false })
    rmSync(unfinished)
    const address = await on(calendar)
    symlinkSync('/dev/full', unfinished)
    expect(await calendar.switchOff()).toMatchObject(refused)
    expect(calendar.view()).toMatchObject({ isOn: true })
    expect((await get(address)).status).toBe(200)
  })

  test('answers nobody without its key, nobody who would write, and no page of another site', async () => {
    const { calendar } = await anAddress()
    const address = await on(calendar)
    const { host } = new URL(address)
    const status = async (to: string, how: Parameters<typeof get>[1] = {}) => (await get(to, how)).status
    expect(await status(address)).toBe(200)
    expect(await status(`http://${host}/`)).toBe(404)
    expect(await status(`http://${host}/${'a'.repeat(32)}/calendar.ics`)).toBe(404)
    expect(await status(`${address}?more`)).toBe(404)
    for (const method of ['POST', 'PUT', 'DELETE', 'PROPFIND']) expect(await status(address, { method })).toBe(405)
    expect(await status(address, { headers: { host: 'evil.example' } })).toBe(403)
    expect(await status(address, { headers: { origin: 'https://evil.example' } })).toBe(403)
    expect(await status(address, { headers: { 'sec-fetch-site': 'cross-site' } })).toBe(403)
    expect((await get(address, { method: 'HEAD' })).body).toBe('')
  })

  test('a new address ends the old one', async () => {
    const { calendar } = await anAddress()
    const first = await on(calendar)
    const second = await on(calendar)
    expect(second).not.toBe(first)
    expect([(await get(first)).status, (await get(second)).status]).toEqual([404, 200])
  })

  test('is the same after a restart, for this user alone, and says so when its port is taken', async () => {
    const { folder, calendar } = await anAddress()
    const address = await on(calendar)
    if (process.platform !== 'win32') expect(statSync(join(folder, 'calendar-address.json')).mode & 0o777).toBe(0o600)
    const taken = await anAddress(folder)
    expect(taken.calendar.view()).toMatchObject({ isOn: true, inTheWay: expect.stringContaining('new address') })
    expect(await on(taken.calendar)).not.toBe(address)
    await taken.calendar.switchOff()
    await calendar.close()
    expect(readFileSync(join(folder, 'calendar-address.json'), 'utf8')).toBe('null')
    expect((await anAddress(folder)).calendar.view().isOn).toBe(false)
  })

  test('says that it cannot while the shop is not open', async () => {
    const { calendar } = await anAddress(undefined, () => Promise.resolve(null as unknown as string))
    expect((await get(await on(calendar))).status).toBe(503)
  })
})
