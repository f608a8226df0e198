import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { share, tooFewBegan, type Trial } from './trial.ts'
import { programPath, whatBroke } from './whole-book.ts'

/** A writer killed at any moment of its writing, over and over on the same book. */
export const kills: Trial = async ({ scale, random, isOver, folder }) => {
  const most = share(1_000, scale)
  let runs = 0
  const broken: string[] = []
  let answeredInAll = 0
  let notBegun = 0
  for (; runs < most && !isOver(); runs++) {
    // A book of its own for every hundred kills, so that reading it back stays quick.
    const path = join(folder, `book-${Math.floor(runs / 100)}`, 'shop.sqlite')
    const answered = await writeUntilKilled(path, `run${runs}`, Math.floor(random() * 60))
    answeredInAll += answered.length
    // It is killed only once an order was answered.
    if (answered.length === 0) notBegun++
    const what = await whatBroke(path, answered)
    if (what !== null) broken.push(`kill ${runs}: ${what}`)
  }
  broken.push(...tooFewBegan(notBegun, runs))
  return { runs, said: `${answeredInAll} answers before the kills, ${notBegun} writers never began`, broken }
}

async function writeUntilKilled(path: string, name: string, afterMs: number): Promise<string[]> {
  const child = spawn(process.execPath, [programPath('write-orders.ts'), path, name], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const gone = once(child, 'exit')
  let out = ''
  const first = new Promise<void>((resolve) =>
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text
      if (/^order .*\n/m.test(out)) resolve()
    }),
  )
  await Promise.race([first, gone])
  await new Promise((resolve) => setTimeout(resolve, afterMs))
  child.kill('SIGKILL')
  await gone
  // The last line may be half a line.
  return out
    .split('\n')
    .slice(0, -1)
    .filter((line) => /^(order|step) /.test(line))
}
