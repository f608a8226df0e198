import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { addCommission } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { anOrder } from '../../test/db/support/orders.ts'
import { hasStrace, NO_STRACE, WRITING } from './traced.ts'
import type { Trial } from './trial.ts'
import { NOW_MS, whatBroke } from './whole-book.ts'

/** One order taken, in which one system call on the shop's files fails: each of them in turn, as on a broken and on a full disk. */
export const failingSyscalls: Trial = async ({ scale, isOver, folder }) => {
  if (!hasStrace()) return NO_STRACE
  const sound = join(folder, 'sound')
  mkdirSync(sound)
  await oneOrder(join(sound, 'shop.sqlite'))
  const broken: string[] = []
  const counts = { taken: 0, refused: 0 }
  let runs = 0
  const step = Math.max(1, Math.round(1 / scale))
  for (const call of WRITING)
    for (const error of ['EIO', 'ENOSPC'])
      for (let when = 1; !isOver(); when += step) {
        const { injected, said, path } = oneWrite(folder, sound, `${call}:error=${error}:when=${when}`)
        if (!injected) break
        runs++
        const answered = said.filter((line) => line.startsWith('order '))
        if (answered.length > 0) counts.taken++
        else counts.refused++
        const what = await whatBroke(path, ['order sound 1', ...answered])
        if (what !== null) broken.push(`${call} ${when} with ${error}: ${what}`)
        else if (!said.some((line) => /^(order|refused) /.test(line)))
          broken.push(`${call} ${when} with ${error}: no answer`)
      }
  return { runs, said: `order taken all the same ${counts.taken}, refused ${counts.refused}`, broken }
}

async function oneOrder(path: string): Promise<void> {
  const opened = await openShopFile(path, { clockMs: () => NOW_MS })
  if (!opened.ok) throw new Error(opened.problems[0]?.message)
  await addCommission(opened.value.db, anOrder('sound'), { atMs: NOW_MS, makerId: null })
  await opened.value.close()
}

function oneWrite(folder: string, sound: string, inject: string): { injected: boolean; said: string[]; path: string } {
  const data = join(folder, 'spoiled')
  rmSync(data, { recursive: true, force: true })
  cpSync(sound, data, { recursive: true })
  const path = join(data, 'shop.sqlite')
  const log = join(folder, 'log')
  const program = new URL('./take-one-order.ts', import.meta.url).pathname
  const call = inject.split(':')[0] ?? ''
  const { stdout } = spawnSync('strace', [
    ...['-f', '-qq', '-y', '-P', path, '-P', `${path}-wal`, '-e', `trace=${call}`, '-e', `inject=${inject}`, '-o', log],
    ...[process.execPath, program, path],
  ])
  return { injected: readFileSync(log, 'utf8').includes('(INJECTED)'), said: String(stdout).split('\n'), path }
}
