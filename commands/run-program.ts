import { spawn } from 'node:child_process'
import { join } from 'node:path'

export const projectFolder = join(import.meta.dirname, '..')

export interface Ended {
  readonly code: number
  /** Standard output and errors as they came, when they were kept. */
  readonly output: string
}

/** Runs a Node program of the project's packages to its end: shown as it runs, or kept to be shown later. */
export function runProgram(
  program: string,
  args: readonly string[],
  { shown = true, env = {} }: { readonly shown?: boolean; readonly env?: Readonly<Record<string, string>> } = {},
): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [join(projectFolder, 'node_modules', program), ...args], {
      cwd: projectFolder,
      stdio: shown ? 'inherit' : ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, ...env },
    })
    const parts: Buffer[] = []
    child.stdout?.on('data', (part: Buffer) => parts.push(part))
    child.stderr?.on('data', (part: Buffer) => parts.push(part))
    child.on('error', reject)
    child.on('close', (code) => resolve({ code: code ?? 1, output: Buffer.concat(parts).toString('utf8') }))
  })
}
