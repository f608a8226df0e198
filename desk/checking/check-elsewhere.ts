import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { Examination, ExamineElsewhere } from '../../db/examine-file.ts'
import type { ToCheck } from './check-process.ts'

/** Looks through a file in a process of Node. Told to stop, it answers once that process is gone. */
export const checkElsewhere: ExamineElsewhere = (path, known, depth, signal) =>
  new Promise((resolve, reject) => {
    const child = fork(programFile(), { execArgv: [], stdio: ['ignore', 'inherit', 'inherit', 'ipc'] })
    let found: Examination | undefined
    const stop = (): void => void child.kill('SIGKILL')
    signal.addEventListener('abort', stop)
    child.once('message', (message) => (found = message as Examination))
    child.once('error', reject)
    child.once('exit', (code, ended) => {
      signal.removeEventListener('abort', stop)
      if (signal.aborted) resolve(null)
      else if (found !== undefined) resolve(found)
      else reject(new Error(`The process ended with ${code ?? ended}`))
    })
    const asked: ToCheck = { path, known, depth }
    child.send(asked)
  })

// Run from the sources it is the file beside this one; bundled it is an entry of its own beside the main bundle.
const programFile = (): string =>
  fileURLToPath(new URL(import.meta.url.endsWith('.ts') ? './check-process.ts' : './check.js', import.meta.url))
