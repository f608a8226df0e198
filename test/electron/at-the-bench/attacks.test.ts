import { once } from 'node:events'
import { readFileSync, statSync } from 'node:fs'
import { request as plainRequest } from 'node:http'
import { Agent } from 'node:https'
import { connect as connectPlain } from 'node:net'
import { connect as connectTls } from 'node:tls'
import { join } from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { procedures } from '../../../desk/procedures.ts'
import { mayCall, openToDevices } from '../../../desk/devices/rights.ts'
import { aDesk } from '../../desk/support/a-desk.ts'
import { aDeskWithDoor, connectTo, phoneWith } from './support.ts'

const callBench = { method: 'POST', path: '/call', body: { name: 'bench', input: { rows: 24 } } } as const

describe('who is not paired learns nothing of the shop', () => {
  test('nothing listens until it is switched on, and nothing after it is switched off', async () => {
    const shop = await aDesk()
    expect(await shop.ask.devices()).toMatchObject({ isOn: false, url: null, devices: [] })
    const desk = await aDeskWithDoor()
    expect((await desk.send({ path: '/' })).status).toBe(200)
    await desk.ask.devicesOff()
    await expect(desk.send({ path: '/' })).rejects.toThrow(/ECONNREFUSED/)
    expect((await desk.ask.devices()).url).toBeNull()
  })

  test('an address that is not one of this computer’s is refused', async () => {
    const desk = await aDeskWithDoor()
    for (const address of ['0.0.0.0', '203.0.113.9', '', '::'])
      expect(await desk.call.devicesOn({ address })).toMatchObject({ ok: false, problems: [{ field: 'address' }] })
  })

  test('without a key, or with a made-up one, calls and events are refused', async () => {
    const desk = await aDeskWithDoor()
    for (const cookie of ['', '__Host-out-of-clamps=', `__Host-out-of-clamps=${'A'.repeat(43)}`]) {
      expect((await desk.send({ ...callBench, headers: { cookie } })).status).toBe(401)
      expect((await desk.send({ path: '/events', headers: { cookie } })).status).toBe(401)
    }
  })

  test('plain HTTP and TLS of before 1.2 get no answer', async () => {
    const desk = await aDeskWithDoor()
    const asked = plainRequest({ host: '127.0.0.1', port: desk.port, path: '/' })
    asked.end()
    await expect(once(asked, 'response')).rejects.toThrow()
    const { connect } = await import('node:tls')
    const old = connect({
      ...{ host: '127.0.0.1', port: desk.port, rejectUnauthorized: false },
      ...{ minVersion: 'TLSv1.1', maxVersion: 'TLSv1.1', ciphers: 'DEFAULT@SECLEVEL=0' },
    })
    await expect(once(old, 'secureConnect')).rejects.toThrow()
  })

  test('no path leads out of the app’s own files', async () => {
    const desk = await aDeskWithDoor()
    for (const path of ['/../package.json', '/%2e%2e/package.json', '/..%2fpackage.json', '//etc/passwd', '/.%00.txt'])
      expect((await desk.send({ path })).status).toBe(404)
  })
})

describe('rebinding and forged origins', () => {
  test('another host name is refused, also with a good key', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'press')
    for (const host of [
      'shop.example',
      'localhost',
      `localhost:${desk.port}`,
      '127.0.0.1',
      `127.0.0.1:${desk.port + 1}`,
    ]) {
      expect((await phone.send({ ...callBench, headers: { host } })).status).toBe(421)
      expect((await phone.send({ path: '/', headers: { host } })).status).toBe(421)
    }
  })

  test('a page of another origin is refused, also with a good key; so is a post that names no origin', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'press')
    for (const origin of ['https://shop.example', 'null', `http://127.0.0.1:${desk.port}`, '']) {
      expect((await phone.send({ ...callBench, headers: { origin } })).status).toBe(403)
    }
    for (const site of ['cross-site', 'same-site'])
      expect((await phone.send({ ...callBench, headers: { 'sec-fetch-site': site } })).status).toBe(403)
    const code = await desk.newCode('Tablet', 'see')
    const forged = {
      method: 'POST',
      path: '/pair',
      body: { code },
      headers: { origin: 'https://shop.example' },
    } as const
    expect((await desk.send(forged)).status).toBe(403)
    // It was not used up by that.
    expect((await desk.postCode(code)).cookie).toBeDefined()
  })

  test('only JSON is taken, which a form of another site cannot send', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'press')
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data', ''])
      expect((await phone.send({ ...callBench, headers: { 'content-type': type } })).status).toBe(415)
  })
})

describe('the code', () => {
  test('is good once: replayed or stolen after its use it opens nothing', async () => {
    const desk = await aDeskWithDoor()
    const code = await desk.newCode('Phone', 'press')
    expect((await desk.postCode(code)).cookie).toMatch(
      /^__Host-out-of-clamps=[\w-]{43}; Secure; HttpOnly; SameSite=Strict; Path=\//,
    )
    const again = await desk.postCode(code)
    expect(again.cookie).toBeUndefined()
    expect(again.text).toContain('wrong-code')
    expect((await desk.ask.devices()).devices).toHaveLength(1)
  })

  test('two that come at once with the same code: one is let in', async () => {
    const desk = await aDeskWithDoor()
    const code = await desk.newCode('Phone', 'press')
    const answers = await Promise.all(Array.from({ length: 5 }, () => desk.postCode(code)))
    expect(answers.filter(({ cookie }) => cookie !== undefined)).toHaveLength(1)
  })

  test('brute force: after five wrong ones the right one is refused as well', async () => {
    const desk = await aDeskWithDoor()
    const code = await desk.newCode('Phone', 'press')
    for (let attempt = 0; attempt < 5; attempt++) {
      const wrong = await desk.postCode('0000000000')
      expect(wrong.text).toContain('wrong-code')
    }
    expect((await desk.postCode(code)).text).toContain('wrong-code')
    expect(await desk.ask.devices()).toMatchObject({ devices: [], offered: null })
  })

  test('is good for five minutes', async () => {
    const desk = await aDeskWithDoor()
    const code = await desk.newCode('Phone', 'press')
    await desk.setClock('2026-03-03T15:06:00Z')
    expect((await desk.postCode(code)).text).toContain('wrong-code')
  })

  test('a newer one makes the one before worthless; with none shown, nothing is good', async () => {
    const desk = await aDeskWithDoor()
    for (const none of ['', '0000000000']) expect((await desk.postCode(none)).text).toContain('wrong-code')
    const first = await desk.newCode('Phone', 'press')
    const second = await desk.newCode('Phone', 'press')
    expect(second).not.toBe(first)
    expect((await desk.postCode(first)).cookie).toBeUndefined()
    expect((await desk.postCode(second.toLowerCase())).cookie).toBeDefined()
  })

  test('what is no text is no code', async () => {
    const desk = await aDeskWithDoor()
    await desk.newCode('Phone', 'press')
    for (const code of [null, 7, {}, ['x'], true]) {
      const { text } = await desk.send({ method: 'POST', path: '/pair', body: { code } })
      expect(text).toContain('wrong-code')
    }
  })
})

describe('the key', () => {
  test('is kept as its hash alone, in a file for this user alone, in no backup and in no whole shop', async () => {
    const desk = await aDeskWithDoor()
    const { cookie } = await desk.pair('Phone', 'press')
    const key = cookie.split('=')[1] ?? ''
    expect(key).toHaveLength(43)
    const file = join(desk.folder, 'devices.json')
    expect(readFileSync(file, 'utf8')).not.toContain(key)
    expect(statSync(file).mode & 0o077).toBe(0)
    const whole = await desk.ask.takeAlong({ what: 'everything' })
    expect(whole.text).not.toMatch(/PRIVATE KEY|keyHash/)
    expect(readFileSync(join(desk.folder, 'shop.sqlite')).includes('PRIVATE KEY')).toBe(false)
  })

  test('of a removed device is refused at once, and its open stream ends', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'press')
    const stream = await phone.listen()
    expect(stream.status).toBe(200)
    expect((await phone.call('bench', { rows: 24 })).ok).toBe(true)
    const [device] = (await desk.ask.devices()).devices
    await desk.ask.deviceRemove({ id: device!.id })
    await stream.ended
    await expect(phone.call('bench', { rows: 24 })).rejects.toThrow('401')
  })

  test('outlives closing the app, and a backup from before brings no removed device back', async () => {
    const desk = await aDeskWithDoor()
    const [kept, gone] = [await desk.pair('Phone', 'press'), await desk.pair('Tablet', 'press')]
    await desk.ask.backupNow()
    const [, second] = (await desk.ask.devices()).devices
    await desk.ask.deviceRemove({ id: second!.id })
    const [backup] = await desk.ask.backups()
    await desk.ask.openBackup({ file: backup!.file })
    await desk.desk.close()
    const again = await aDeskWithDoor(desk.folder)
    expect((await phoneWith(again.port, kept.cookie).call('bench', { rows: 24 })).ok).toBe(true)
    await expect(phoneWith(again.port, gone.cookie).call('bench', { rows: 24 })).rejects.toThrow('401')
  })

  test('no more than ten devices are let in', async () => {
    const desk = await aDeskWithDoor()
    for (let at = 1; at <= 10; at++) await desk.pair(`Phone ${at}`, 'see')
    expect(await desk.call.deviceCode({ name: 'Phone 11', right: 'see' })).toMatchObject({
      problems: [{ code: 'too-many-devices' }],
    })
  })
})

describe('rights', () => {
  test('what no device may do is refused to the one that may most, name by name', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'orders')
    const refused = Object.keys(procedures).filter((name) => !openToDevices.includes(name))
    expect(refused).toEqual(
      expect.arrayContaining(['devicesOff', 'deviceCode', 'takeAlong', 'openBackup', 'almanacSave']),
    )
    for (const name of [...refused, 'testSetClock', 'constructor', '__proto__', 'no such thing']) {
      // At the pace of a person.
      const reply = await desk.desk.call('bench', { rows: 24 }).then(() => phone.call(name))
      expect([name, reply]).toMatchObject([name, { ok: false, problems: [{ code: 'not-allowed' }] }])
    }
  })

  test('everything that is open to devices is a procedure of the desk', () => {
    expect(openToDevices.filter((name) => !Object.hasOwn(procedures, name))).toEqual([])
  })

  test('who may look may not press, who may press may take no orders', async () => {
    const desk = await aDeskWithDoor()
    const [see, press] = [await desk.pair('Tablet', 'see'), await desk.pair('Phone', 'press')]
    const notAllowed = { ok: false, problems: [{ code: 'not-allowed' }] }
    expect((await see.call('rack')).ok).toBe(true)
    expect(await see.call('stepStart', { stepId: 'x' })).toMatchObject(notAllowed)
    expect(await see.call('undo', { entryId: 1 })).toMatchObject(notAllowed)
    expect(await see.call('makerAway', { makerId: 'x', away: true })).toMatchObject(notAllowed)
    expect(await press.call('takeOrder', {})).toMatchObject(notAllowed)
    expect(await press.call('drafts')).toMatchObject(notAllowed)
  })

  test('no device is sent a price or a rate', async () => {
    const desk = await aDeskWithDoor()
    const { ask } = desk
    const [order] = (await ask.orderBook()).open
    const id = order!.commissionId
    const facts = { 'money.payPerHourMinor': '8161.37', 'money.tax1.rate': '7.1313', 'yard.price.walnut': '7185.37' }
    for (const [key, input] of Object.entries(facts)) await ask.almanacChangeFact({ key, input })
    await ask.commissionChange({ id, changes: { priceMinor: 123_456 } })
    const { draft } = await ask.changeBegin({ id })
    await ask.changeKeep({
      ...{ id, draft: { ...draft, price: '1357.91' }, said: {} },
      ...{ askedBy: 'customer', why: 'engraved', promise: 'as-it-is' },
    })
    const sums = /(?<![\d.])(816137|71313|718537|123456|135791)(?!\d)|\$/
    const told = async (call: (name: string, input?: unknown) => Promise<unknown>) => {
      const { pieces } = await ask.commission({ id })
      const asked: Readonly<Record<string, object>> = {
        ...{ shopState: {}, almanac: {}, caughtUp: {}, bench: { rows: 24 }, rack: {}, commission: { id } },
        ...{ orderNumbered: { number: 1 }, whatWouldHelp: { id }, whyDate: { id }, yourWaits: {} },
        ...{ milledBoards: { stepId: pieces[0]!.steps[0]!.stepId }, noticesDue: { ids: [] } },
        noticesTold: {},
      }
      expect(Object.keys(asked).toSorted()).toEqual(openToDevices.filter((name) => mayCall('see', name)).toSorted())
      const texts = []
      for (const [name, input] of Object.entries(asked))
        texts.push([name, JSON.stringify(await call(name, input))] as const)
      return texts.filter(([, text]) => sums.test(text)).map(([name]) => name)
    }
    expect(await told((name, input) => desk.desk.call(name, input ?? {}))).toEqual(['almanac', 'commission'])
    for (const right of ['see', 'press', 'orders'] as const) {
      const device = await desk.pair(`Device ${right}`, right)
      expect([right, await told(device.call)]).toEqual([right, []])
      const { value } = (await device.call('commission', { id })) as unknown as { value: object }
      expect(Object.keys(value).filter((field) => /minor|price|money|cost|tax/i.test(field))).toEqual([])
      expect(value).toMatchObject({ number: 1, history: [{ sums: '' }, {}, {}] })
    }
  })

  test('what failed is said on a device that may press, and what the wood cost is told at the desk alone', async () => {
    const desk = await aDeskWithDoor()
    const { ask } = desk
    const id = (await ask.orderBook()).open[0]!.commissionId
    const { woods } = (await ask.almanac()).almanac
    for (const wood of woods) await ask.almanacChangeFact({ key: `yard.price.${wood.id}`, input: '12' })
    const [first] = (await ask.commission({ id })).pieces[0]!.steps
    await ask.stepDone({ stepId: first!.stepId, anyway: true, workedMin: 10 })
    const which = { stepId: first!.stepId, fromStepId: first!.stepId, count: first!.count }
    const failure = { ...which, reason: 'crack' as const, note: '' }
    const [see, press] = [await desk.pair('Tablet', 'see'), await desk.pair('Phone', 'press')]
    expect(await see.call('stepFailed', failure)).toMatchObject({ ok: false, problems: [{ code: 'not-allowed' }] })
    const told = await press.call('stepFailed', failure)
    expect(told).toMatchObject({ ok: true, value: { said: expect.stringMatching(/^Failed: /) as string } })
    expect(JSON.stringify(told)).not.toMatch(/Wood lost|\$/)
    await ask.undo({ entryId: (told as unknown as { value: { entryId: number } }).value.entryId })
    expect((await ask.stepFailed(failure)).sums).toMatch(/^Wood lost: \$\d/)
  })

  test('a device is told neither folders nor what is wrong with this computer', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'see')
    expect(await phone.call('shopState')).toMatchObject({
      value: { inTheWay: [], trouble: null, device: { name: 'Phone', right: 'see' } },
    })
  })
})

/** Of requests that follow each other faster than a busy machine makes a connection for each. */
function oneConnection(): Agent {
  const agent = new Agent({ keepAlive: true, maxSockets: 1 })
  onTestFinished(() => agent.destroy())
  return agent
}

describe('limits', () => {
  test('a body that is too large is refused', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'orders')
    const body = { name: 'draftSave', input: 'x'.repeat(600 * 1024) }
    const answer = await phone.send({ method: 'POST', path: '/call', body }).catch((error: unknown) => error)
    expect(answer instanceof Error ? 413 : (answer as { status: number }).status).toBe(413)
    expect((await phone.call('bench', { rows: 24 })).ok).toBe(true)
    expect((await desk.send({ method: 'POST', path: '/pair', body: { code: 'x'.repeat(2000) } })).status).toBe(413)
  })

  test('who connects and says nothing, or says it byte by byte, is cut off, and others get answers meanwhile', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'press')
    const silent = connectPlain({ host: '127.0.0.1', port: desk.port })
    const slow = await connectTo(desk.port)
    const dripping = setInterval(() => slow.write('x'), 200)
    slow.write('GET / HTTP/1.1\r\nx-slow: ')
    const half = await connectTo(desk.port)
    half.write(`POST /call HTTP/1.1\r\nhost: 127.0.0.1:${desk.port}\r\norigin: https://127.0.0.1:${desk.port}\r\n`)
    half.write(`content-type: application/json\r\ncookie: ${phone.cookie}\r\ncontent-length: 100\r\n\r\n{`)
    for (const socket of [silent, slow, half]) {
      socket.on('error', () => undefined)
      socket.resume()
    }
    expect((await phone.call('bench', { rows: 24 })).ok).toBe(true)
    await Promise.all([once(silent, 'close'), once(slow, 'close'), once(half, 'close')])
    clearInterval(dripping)
    expect((await phone.call('bench', { rows: 24 })).ok).toBe(true)
  })

  test('who was about to say hello when the desk closes keeps it from nothing', async () => {
    const desk = await aDeskWithDoor()
    const socket = connectPlain({ host: '127.0.0.1', port: desk.port })
    socket.on('error', () => undefined)
    await once(socket, 'connect')
    // It was let in before this one was.
    expect((await desk.send({ path: '/' })).status).toBe(200)
    const closed = desk.desk.close()
    await expect
      .poll(() => desk.send({ path: '/' }).then(String, ({ code }: { readonly code?: string }) => code))
      .toBe('ECONNREFUSED')
    connectTls({ socket, rejectUnauthorized: false }).on('error', () => undefined)
    await closed
  })

  test('one address holds a few connections, no more', async () => {
    const desk = await aDeskWithDoor()
    // Without a word, so that all of them are there before the first has been silent for too long.
    const sockets = Array.from({ length: 12 }, () => connectPlain({ host: '127.0.0.1', port: desk.port }))
    for (const socket of sockets) socket.on('error', () => undefined)
    await Promise.all(sockets.map((socket) => once(socket, 'connect')))
    await expect(connectTo(desk.port)).rejects.toThrow()
    sockets[0]!.destroy()
    await expect.poll(async () => (await desk.send({ path: '/' }).catch(() => null))?.status).toBe(200)
    for (const socket of sockets) socket.destroy()
  })

  test('requests without pause are refused for a while', async () => {
    const desk = await aDeskWithDoor()
    const statuses: number[] = []
    const agent = oneConnection()
    for (let at = 0; at < 2_000 && !statuses.includes(429); at++)
      statuses.push((await desk.send({ path: '/', agent })).status)
    expect(statuses.filter((status) => status === 200).length).toBeGreaterThanOrEqual(120)
    expect(statuses.at(-1)).toBe(429)
  })

  test('a paired device may open the app several times in a row, while strangers at its address were refused', async () => {
    const desk = await aDeskWithDoor()
    const phone = await desk.pair('Phone', 'see')
    const agent = oneConnection()
    for (let status = 0; status !== 429;) ({ status } = await desk.send({ path: '/', agent }))
    const opened: number[] = []
    const headers = { cookie: phone.cookie }
    for (let at = 0; at < 240; at++) opened.push((await desk.send({ path: '/', headers })).status)
    expect(opened.filter((status) => status !== 200)).toEqual([])
    expect((await phone.call('bench', { rows: 24 })).ok).toBe(true)
  })

  test('a device listens by two streams at most: a third ends its oldest, as a phone that dropped out does not say so', async () => {
    const desk = await aDeskWithDoor()
    const [phone, tablet] = [await desk.pair('Phone', 'see'), await desk.pair('Tablet', 'see')]
    const others = await tablet.listen()
    const [first, second] = [await phone.listen(), await phone.listen()]
    expect([first.status, second.status]).toEqual([200, 200])
    const third = await phone.listen()
    expect(third.status).toBe(200)
    await first.ended
    await desk.ask.stepStart({ stepId: (await desk.ask.bench({ rows: 24 })).canStart[0]!.stepId })
    for (const stream of [second, third, others]) await expect.poll(stream.text).toContain('"kind":"changed"')
    await phone.listen()
    await second.ended
    await desk.ask.devicesOff()
    await Promise.all([third.ended, others.ended])
  })
})
