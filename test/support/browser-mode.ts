import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { createInterface } from 'node:readline'

export interface StartOptions {
  readonly dataFolder: string
  readonly demo?: boolean
  /** Instant at which the clock for tests starts; its procedures come with it. `null`: the real clock, no such procedures. */
  readonly clock?: string | null
  /** What new files are denied, as the shell has it that starts the program; absent: as it is. Not on Windows. */
  readonly umask?: string
}

/** An instant in no special week: a Tuesday morning, 9 o'clock in Chicago. */
export const usualInstant = '2026-03-03T15:00:00Z'

export interface BrowserModeProgram {
  /** The printed address, with its key still unused. */
  readonly address: string
  /** Everything that the program said on its error stream so far. */
  errors(): string
  /** Ends the program as Ctrl+C does, and waits until it has closed the shop. */
  stop(): Promise<number | null>
  /** Ends the program as a power cut does. */
  kill(): Promise<void>
}

const projectFolder = join(import.meta.dirname, '../..')

/** Starts browser mode as a program of its own, as `npm start` does, and waits for its address. */
export async function startBrowserMode(options: StartOptions): Promise<BrowserModeProgram> {
  const program = [process.execPath, 'out/main/serve.js', ...startArguments(options)] as const
  const [command, ...args] =
    options.umask === undefined
      ? program
      : (['sh', '-c', `umask ${options.umask}; exec "$@"`, 'sh', ...program] as const)
  const child = spawn(command, args, {
    cwd: projectFolder,
    env: startEnvironment(options),
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let errors = ''
  child.stderr.on('data', (part: Buffer) => (errors += part.toString()))
  const ended = once(child, 'exit') as Promise<[number | null]>

  const address = await Promise.race([printedAddress(child.stdout), ended.then(() => undefined)])
  if (address === undefined) throw new Error(`Browser mode did not start: ${errors}`)
  return {
    address,
    errors: () => errors,
    async stop() {
      child.kill('SIGTERM')
      return (await ended)[0]
    },
    async kill() {
      child.kill('SIGKILL')
      await ended
    },
  }
}

export const startArguments = ({ dataFolder, demo = false }: StartOptions): string[] => [
  `--data=${dataFolder}`,
  ...(demo ? ['--demo'] : []),
]

export function startEnvironment({ clock = usualInstant }: StartOptions): NodeJS.ProcessEnv {
  const { OUT_OF_CLAMPS_TEST_CLOCK: _, ...env } = process.env
  return clock === null ? env : { ...env, OUT_OF_CLAMPS_TEST_CLOCK: clock }
}

async function printedAddress(output: NodeJS.ReadableStream): Promise<string | undefined> {
  for await (const line of createInterface({ input: output })) {
    const address = /http:\S+/.exec(line)?.[0]
    if (address !== undefined) {
      output.resume()
      return address
    }
  }
  return undefined
}
