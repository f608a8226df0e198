import { constants, setPriority } from 'node:os'
import { type Examination, examineFile } from '../../db/examine-file.ts'

/** What the process is told: which file, by somebody who knows these migrations. */
export interface ToCheck {
  readonly path: string
  readonly known: readonly string[]
  readonly depth: 'quick' | 'whole'
}

/** What it answers. */
export type Checked = Examination

/**
 * A process that looks through one file and says what it found: large ones take many seconds, in which nobody shall wait. Electron's own
 * kind of process has its parent at another place.
 */
const { parentPort } = process as { readonly parentPort?: typeof process.parentPort }

function check({ path, known, depth }: ToCheck): Checked {
  // Somebody works on while it looks.
  setPriority(constants.priority.PRIORITY_BELOW_NORMAL)
  return examineFile(path, known, depth)
}

if (parentPort === undefined) {
  process.once('message', (asked) => process.send?.(check(asked as ToCheck), () => process.exit(0)))
  process.once('disconnect', () => process.exit(0))
} else parentPort.once('message', ({ data }) => parentPort.postMessage(check(data as ToCheck)))
