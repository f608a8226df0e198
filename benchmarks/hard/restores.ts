import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { filesSetAside } from '../../db/set-aside.ts'
import type { Desk } from '../../desk/desk.ts'
import { draftOf } from '../large-book.ts'
import { share, type Trial } from './trial.ts'
import { trialDesk } from './trial-desk.ts'
import { NOW_MS } from './whole-book.ts'

/** Copies opened while orders are being taken: each order is answered and in the book that was open then, or told as not kept. */
export const restoresWhileWriting: Trial = async ({ scale, random, isOver, folder }) => {
  const most = share(100, scale)
  let runs = 0
  const broken: string[] = []
  const desk = await trialDesk(folder, () => NOW_MS)
  let answered = 0
  for (; runs < most && !isOver(); runs++) {
    const made = await ask(desk, 'backupNow', {})
    const { file } = made as { file: string }
    const taking = Array.from({ length: 3 }, (_, at) =>
      desk.call('takeOrder', { draft: draftOf(runs * 10 + at), standing: 'asked-about', promisedFor: null }),
    )
    await new Promise((resolve) => setTimeout(resolve, random() * 300))
    const restored = await desk.call('openBackup', { file })
    if (!restored.ok) broken.push(`restore ${runs}: ${restored.problems[0]?.message}`)
    const taken: string[] = []
    for (const reply of await Promise.all(taking)) {
      if (reply.ok) taken.push((reply.value as { commissionId: string }).commissionId)
      else if (reply.problems[0]?.code === 'fault') broken.push(`restore ${runs}: a fault instead of a reason`)
    }
    answered += taken.length
    const kept = ordersIn(join(folder, 'shop.sqlite'))
    broken.push(
      ...taken.filter((id) => !kept.has(id)).map((id) => `restore ${runs}: order ${id} was answered and is lost`),
    )
    const state = (await ask(desk, 'shopState', {})) as { trouble: unknown }
    if (state.trouble !== null) broken.push(`restore ${runs}: ${JSON.stringify(state.trouble)}`)
    const book = (await ask(desk, 'orderBook', {})) as { open: readonly unknown[] }
    if (!Array.isArray(book.open)) broken.push(`restore ${runs}: no book`)
  }
  await desk.close()
  return { runs, said: `${answered} orders taken meanwhile`, broken }
}

/** Orders in the book that is open and in those that made room for others. */
function ordersIn(path: string): ReadonlySet<string> {
  const files = [path, ...filesSetAside(path).map((one) => one.path)]
  return new Set(
    files.flatMap((name) => {
      const file = new SqliteFile(name, { readonly: true })
      try {
        return file.prepare('select id from commission').pluck().all() as string[]
      } finally {
        file.close()
      }
    }),
  )
}

async function ask(desk: Desk, name: string, input: unknown): Promise<unknown> {
  const reply = await desk.call(name, input)
  if (!reply.ok) throw new Error(`${name}: ${reply.problems[0]?.message}`)
  return reply.value
}
