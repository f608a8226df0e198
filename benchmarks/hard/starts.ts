import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { share, type Trial } from './trial.ts'
import { programPath } from './whole-book.ts'

/** Two starts in the same moment: one gets the folder, the other is told who has it. */
export const twoStarts: Trial = async ({ scale, isOver, folder }) => {
  const most = share(200, scale)
  let runs = 0
  const broken: string[] = []
  for (; runs < most && !isOver(); runs++) {
    const data = join(folder, String(runs))
    const both = [0, 1].map(() =>
      spawn(process.execPath, [programPath('hold-folder.ts'), data], { stdio: ['pipe', 'pipe', 'inherit'] }),
    )
    const said = await Promise.all(both.map(async (child) => String((await once(child.stdout, 'data'))[0]).trim()))
    const held = said.filter((line) => line === 'held').length
    const refused = said.filter((line) => line.startsWith('This shop is already open')).length
    if (held !== 1 || refused !== 1) broken.push(`start ${runs}: ${said.join(' | ')}`)
    for (const child of both) child.kill('SIGKILL')
    await Promise.all(both.map((child) => child.exitCode ?? child.signalCode ?? once(child, 'exit')))
  }
  return { runs, said: 'two processes each', broken }
}
