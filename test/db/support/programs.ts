import { type ChildProcessByStdio, spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import type { Readable, Writable } from 'node:stream'
import { onTestFinished } from 'vitest'

export interface RunningProgram {
  readonly process: ChildProcessByStdio<Writable, Readable, Readable>
  /** Whole lines that it has written so far. */
  lines(): string[]
  /** Waits until it has written a line that the test is looking for. */
  line(wanted: (line: string) => boolean): Promise<string>
  /** Ends it without giving it a chance to tidy up; answers when it is gone. */
  kill(): Promise<void>
}

/** Starts one of the programs beside the tests as a process of its own, under the Node that runs the tests. */
export function runProgram(name: string, ...args: string[]): RunningProgram {
  const child = spawn(process.execPath, [join(import.meta.dirname, '../programs', name), ...args], {
    stdio: ['pipe', 'pipe', 'pipe'],
  })
  const gone = once(child, 'exit')
  let out = ''
  let errors = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => (errors += text))
  // The last piece may be half a line.
  const lines = () => out.split('\n').slice(0, -1)
  const kill = async () => {
    child.kill('SIGKILL')
    await gone
  }
  onTestFinished(kill)
  return {
    process: child,
    lines,
    kill,
    async line(wanted) {
      for (;;) {
        const found = lines().find(wanted)
        if (found !== undefined) return found
        if (child.exitCode !== null || child.signalCode !== null)
          throw new Error(`${name} ended with ${child.exitCode} without the line; so far:\n${out}${errors}`)
        await new Promise((resume) => setTimeout(resume, 5))
      }
    },
  }
}
