// Run by `unshare -Urn`: the desk's computer, alone with two networks of its own. On the one that its door is opened on is a phone,
// on the other a stranger, each a namespace of its own behind a pair of virtual cables. Says as JSON what each of them met.
import { execFileSync, spawn } from 'node:child_process'
import { readFileSync, readlinkSync } from 'node:fs'
import { join } from 'node:path'
import { openDesk } from '../../../../desk/open-desk.ts'
import type { DevicesView } from '../../../../desk/devices/devices.ts'
import type { Reply } from '../../../../desk/procedure.ts'
import { doorOn } from '../../../../electron/at-the-bench/door.ts'

const [dataFolder = ''] = process.argv.slice(2)
const ip = (...args: string[]): void => void execFileSync('ip', args, { stdio: ['ignore', 'ignore', 'inherit'] })
const networkOf = (pid: number | 'self'): string => readlinkSync(`/proc/${pid}/ns/net`)

interface Guest {
  readonly pid: number
  readonly end: () => void
}

/** A computer of its own at the other end of a cable. */
async function plugIn(cable: string, network: string): Promise<Guest> {
  const sleeper = spawn('unshare', ['-n', 'sleep', '600'], { stdio: 'ignore' })
  const pid = sleeper.pid ?? 0
  while (networkOf(pid) === networkOf('self')) await new Promise((resolve) => setTimeout(resolve, 5))
  ip('link', 'add', cable, 'type', 'veth', 'peer', 'name', `${cable}-end`)
  ip('link', 'set', `${cable}-end`, 'netns', String(pid))
  ip('addr', 'add', `${network}.1/24`, 'dev', cable)
  ip('link', 'set', cable, 'up')
  const there = (...args: string[]): void => void execFileSync('nsenter', ['-t', String(pid), '-n', 'ip', ...args])
  there('addr', 'add', `${network}.2/24`, 'dev', `${cable}-end`)
  there('link', 'set', `${cable}-end`, 'up')
  there('route', 'add', 'default', 'via', `${network}.1`)
  return { pid, end: () => void sleeper.kill() }
}

/** Run beside this program, which has to answer them. */
const meets = (guest: Guest, ...args: string[]): Promise<unknown> =>
  new Promise((resolve, reject) => {
    const visitor = join(import.meta.dirname, 'visitor.mjs')
    const child = spawn('nsenter', ['-t', String(guest.pid), '-n', process.execPath, visitor, ...args])
    let [said, errors] = ['', '']
    child.stdout.on('data', (part: Buffer) => (said += part.toString()))
    child.stderr.on('data', (part: Buffer) => (errors += part.toString()))
    child.once('close', () => (said === '' ? reject(new Error(errors)) : resolve(JSON.parse(said))))
  })

/** Local addresses on which something listens, as the kernel lists them. */
const listening = (): string[] =>
  ['tcp', 'tcp6'].flatMap((kind) =>
    readFileSync(`/proc/self/net/${kind}`, 'utf8')
      .trim()
      .split('\n')
      .slice(1)
      .map((line) => line.trim().split(/\s+/))
      .filter((fields) => fields[3] === '0A')
      .map((fields) => (fields[1] ?? '').split(':')[0] ?? ''),
  )

ip('link', 'set', 'lo', 'up')
const phone = await plugIn('shop', '10.77.1')
const stranger = await plugIn('guests', '10.77.2')
const opened = await openDesk({
  where: 'a test',
  dataFolder,
  demo: true,
  forTests: false,
  clock: { nowMs: () => Date.now() },
  openDoor: doorOn(join(import.meta.dirname, '../../../../renderer')),
})
if (!opened.ok) throw new Error(opened.problems[0]?.message)
const desk = opened.value
const ask = async <T>(name: string, input: unknown = {}): Promise<T> => {
  const reply = (await desk.call(name, input)) as Reply<T>
  if (!reply.ok) throw new Error(reply.problems[0]?.message)
  return reply.value
}

/** As the router would: takes the address of the chosen network away, gives another of it, and then one of another network. */
async function whileAddressesChange(): Promise<object> {
  await ask('devicesOn', { address: '10.77.1.1' })
  const become = (from: string, to: string | null): void => {
    ip('addr', 'del', `${from}/24`, 'dev', 'shop')
    if (to !== null) ip('addr', 'add', `${to}/24`, 'dev', 'shop')
  }
  /** Once the desk has looked, which it does every few seconds. */
  const onceShown = async (is: (view: DevicesView) => boolean): Promise<object> => {
    for (;;) {
      const view = await ask<DevicesView>('devices')
      const { url, problems } = view
      if (is(view)) return { listening: listening(), url, says: problems.map(({ code }) => code) }
      await new Promise((resolve) => setTimeout(resolve, 50))
    }
  }
  become('10.77.1.1', null)
  const gone = await onceShown(({ url }) => url === null)
  ip('addr', 'add', '10.77.1.9/24', 'dev', 'shop')
  const moved = await onceShown(({ url }) => url !== null)
  become('10.77.1.9', '10.88.1.5')
  const elsewhere = await onceShown(({ url }) => url === null)
  return { gone, moved, elsewhere }
}

const before = listening()
const { networks } = await ask<DevicesView>('devices')
await ask('devicesOn', { address: '10.77.1.1' })
const { url, fingerprint, offered } = await ask<DevicesView>('deviceCode', { name: 'Phone', right: 'see' })
const port = new URL(url ?? '').port
const met = {
  networks: networks.map(({ address }) => address),
  before,
  meanwhile: listening(),
  strangerThere: await meets(stranger, `https://10.77.1.1:${port}`, offered?.code ?? ''),
  strangerHere: await meets(stranger, `https://10.77.2.1:${port}`, offered?.code ?? ''),
  phone: await meets(phone, url ?? '', offered?.code ?? ''),
  fingerprint,
  after: await ask('devicesOff').then(listening),
  ...(await whileAddressesChange()),
}
console.log(JSON.stringify(met))
await desk.close()
phone.end()
stranger.end()
process.exit(0)
