import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { settableClock, systemClock } from '../desk/clock.ts'
import type { WallClock } from '../desk/desk.ts'

/** How the app was asked to start; the same words for the window and for browser mode. */
export interface StartOptions {
  /** `--demo`: the invented shop, in a data folder of its own. */
  readonly demo: boolean
  /** `--data FOLDER`: a data folder other than the user's, as an absolute path. */
  readonly dataFolder: string | undefined
  /** `--tray always|never|auto`: whether closing the window leaves the app in the tray; `auto` looks for a tray. */
  readonly tray: 'always' | 'never' | 'auto'
}

/** Reads what stands behind the program's name. */
export function readStartOptions(
  args: readonly string[],
  others: 'others refused' | 'others ignored' = 'others refused',
): Result<StartOptions> {
  const values = valuesIn(args, others === 'others refused')
  const tray = values?.tray ?? 'auto'
  const data = values?.data
  if (values === undefined || typeof data === 'boolean' || data === '') return failed(unknownOption)
  if (tray !== 'always' && tray !== 'never' && tray !== 'auto') return failed(unknownOption)
  return ok({ demo: values.demo !== undefined, dataFolder: data === undefined ? undefined : resolve(data), tray })
}

function valuesIn(args: readonly string[], strict: boolean) {
  try {
    return parseArgs({
      args: [...args],
      strict,
      options: { demo: { type: 'boolean' }, data: { type: 'string' }, tray: { type: 'string' } },
    }).values as { demo?: boolean | string; data?: boolean | string; tray?: boolean | string }
  } catch {
    return undefined
  }
}

/** The options again as arguments. */
export const writeStartOptions = ({ demo, dataFolder, tray }: StartOptions): string[] => [
  ...(demo ? ['--demo'] : []),
  ...(dataFolder === undefined ? [] : [`--data=${dataFolder}`]),
  ...(tray === 'auto' ? [] : [`--tray=${tray}`]),
]

/**
 * The instant at which a clock for tests starts, named by `OUT_OF_CLAMPS_TEST_CLOCK`, in milliseconds since the Unix epoch;
 * null: the computer's own clock is the one to go by.
 */
export function testClockStart(env: Readonly<Record<string, string | undefined>>): number | null {
  const instant = env['OUT_OF_CLAMPS_TEST_CLOCK']
  if (instant === undefined) return null
  const startMs = Date.parse(instant)
  if (Number.isNaN(startMs)) throw new Error(`OUT_OF_CLAMPS_TEST_CLOCK is no instant: ${instant}`)
  return startMs
}

/** The clock to open the desk with; one for tests also adds the procedures that only tests may call. */
export const startClock = (testStartMs: number | null): { clock: WallClock; forTests: boolean } =>
  testStartMs === null ? { clock: systemClock, forTests: false } : { clock: settableClock(testStartMs), forTests: true }

const unknownOption = problem(
  'unknown-option',
  'The app can be started with --demo, --data FOLDER and --tray always, never or auto; anything else it does not know.',
)
