import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { createReadStream, mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { createInterface } from 'node:readline'
import { hasStrace, NO_STRACE, WRITING } from './traced.ts'
import { share, type Trial } from './trial.ts'
import { programPath, whatBroke } from './whole-book.ts'

/** What a writer did to its files, in order, and what it answered in between. */
type Act =
  | { readonly kind: 'write'; readonly file: string; readonly bytes: Buffer; readonly at: number }
  | { readonly kind: 'cut'; readonly file: string; readonly to: number }
  | { readonly kind: 'sync'; readonly file: string }
  | { readonly kind: 'remove'; readonly file: string }
  | { readonly kind: 'answer'; readonly text: string }

/** A disk tears a write only between sectors. */
const SECTOR = 512

/**
 * The power goes at any moment: what was written since a file's last sync is there, is not, or is there up to some sector, each write
 * for itself. The writes are those of a real writer, as the system saw them.
 */
export const powerCuts: Trial = async ({ scale, random, isOver, folder }) => {
  if (!hasStrace()) return NO_STRACE
  const acts = await recorded(folder)
  if (!acts.some(({ kind }) => kind === 'answer')) throw new Error('The writer never began: there is no cut to make.')
  const most = share(300, scale)
  let runs = 0
  const broken: string[] = []
  let answeredInAll = 0
  for (; runs < most && !isOver(); runs++) {
    const cutAt = Math.floor(random() * acts.length)
    const data = join(folder, 'after')
    rmSync(data, { recursive: true, force: true })
    mkdirSync(data)
    for (const [file, bytes] of filesAfter(acts.slice(0, cutAt), random)) writeFileSync(join(data, file), bytes)
    const answered = acts.slice(0, cutAt).flatMap((act) => (act.kind === 'answer' ? act.text.split('\n') : []))
    answeredInAll += answered.length
    const what = answered.length === 0 ? null : await whatBroke(join(data, 'shop.sqlite'), answered)
    if (what !== null) broken.push(`cut ${runs} after ${cutAt} of ${acts.length} acts: ${what}`)
  }
  return { runs, said: `${answeredInAll} answers before the cuts`, broken }
}

function filesAfter(acts: readonly Act[], random: () => number): ReadonlyMap<string, Buffer> {
  const files = new Map<string, Buffer>()
  const pending = new Map<string, Act[]>()
  for (const act of acts) {
    if (act.kind === 'answer') continue
    if (act.kind === 'sync') {
      for (const each of pending.get(act.file) ?? []) apply(files, each)
      pending.delete(act.file)
    } else pending.set(act.file, pushed(pending.get(act.file) ?? [], act))
  }
  for (const each of [...pending.values()].flat()) {
    const luck = random()
    if (luck < 1 / 3) continue
    if (each.kind === 'write' && luck > 2 / 3) {
      const kept = Math.floor((random() * each.bytes.length) / SECTOR) * SECTOR
      apply(files, { ...each, bytes: each.bytes.subarray(0, kept) })
    } else apply(files, each)
  }
  return files
}

function pushed(acts: Act[], act: Act): Act[] {
  acts.push(act)
  return acts
}

function apply(files: Map<string, Buffer>, act: Act): void {
  if (act.kind === 'answer' || act.kind === 'sync') return
  if (act.kind === 'remove') return void files.delete(act.file)
  const before = files.get(act.file) ?? Buffer.from(new ArrayBuffer(0))
  if (act.kind === 'write' && act.at + act.bytes.length <= before.length) return void act.bytes.copy(before, act.at)
  const length = act.kind === 'cut' ? act.to : Math.max(before.length, act.at + act.bytes.length)
  const after = resized(before, length)
  if (act.kind === 'write') act.bytes.copy(after, act.at)
  files.set(act.file, after)
}

/** A log grows by each of thousands of writes: it gets room behind it, which is zero. */
function resized(bytes: Buffer, length: number): Buffer {
  if (length >= bytes.length && length <= bytes.buffer.byteLength) return Buffer.from(bytes.buffer, 0, length)
  const roomy = Buffer.from(new ArrayBuffer(length * 2), 0, length)
  bytes.copy(roomy, 0, 0, length)
  return roomy
}

/** Orders written by the program of the tests, until there are enough acts. */
async function recorded(folder: string): Promise<Act[]> {
  const log = join(folder, 'acts')
  const path = join(folder, 'written', 'shop.sqlite')
  mkdirSync(join(folder, 'written'))
  const watched = `trace=${WRITING.join()},write`
  const child = spawn(
    'strace',
    [
      '-f',
      '-qq',
      '-y',
      '-xx',
      '-s',
      '70000',
      '-e',
      watched,
      '-o',
      log,
      process.execPath,
      programPath('write-orders.ts'),
      path,
      'run',
    ],
    // A group of its own: `strace` blocks what would end it, and the writer writes for ever.
    { stdio: ['ignore', 'pipe', 'inherit'], detached: true },
  )
  const gone = once(child, 'exit')
  let out = ''
  const enough = new Promise<void>((resolve) =>
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text
      if ((out.match(/^order /gm) ?? []).length >= 40) resolve()
    }),
  )
  await Promise.race([enough, gone])
  process.kill(-child.pid!, 'SIGKILL')
  await gone
  const acts: Act[] = []
  for await (const line of createInterface({ input: createReadStream(log) })) {
    const act = actOf(line)
    if (act !== null) acts.push(act)
  }
  return acts
}

/** One line of `strace`, its texts written in hexadecimal. */
function actOf(line: string): Act | null {
  const [, call = '', fd = '', name = '', rest = ''] =
    /^\d+\s+(\w+)\((?:(\d+)<)?"?((?:\\x[0-9a-f]{2})+)[">]?,? ?(.*)$/.exec(line) ?? []
  const file = basename(plain(name).toString())
  if (call === 'write') {
    const text = plain(/"((?:\\x[0-9a-f]{2})*)"/.exec(line)?.[1] ?? '').toString()
    return fd === '1' || /^\d+\s+write\(1</.test(line) ? { kind: 'answer', text: text.trimEnd() } : null
  }
  if (!/^shop\.sqlite(-wal)?$/.test(file)) return null
  if (call === 'pwrite64') {
    const [, bytes = '', at = '0'] = /^"((?:\\x[0-9a-f]{2})*)", \d+, (\d+)/.exec(rest) ?? []
    return { kind: 'write', file, bytes: plain(bytes), at: Number(at) }
  }
  if (call === 'ftruncate') return { kind: 'cut', file, to: Number(/^(\d+)/.exec(rest)?.[1] ?? 0) }
  if (call === 'unlink') return { kind: 'remove', file }
  return call === 'fsync' || call === 'fdatasync' ? { kind: 'sync', file } : null
}

const plain = (hex: string): Buffer => Buffer.from(hex.replaceAll('\\x', ''), 'hex')
