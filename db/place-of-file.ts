import { statSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { problem, type Problem } from '../core/problems.ts'

/** Whether the open file still lies where it was opened: deleted or moved, it would take everything typed with it at the end. */
export interface PlaceOfFile {
  /** Looks again. True: it lies there no more. */
  look(): boolean
  warnings(): readonly Problem[]
}

export function watchPlace(path: string): PlaceOfFile {
  const opened = idOf(path)
  let warnings: readonly Problem[] = []
  return {
    look() {
      // A disk that gives no answer for a moment says nothing about the file.
      const now = idOf(path)
      warnings = now === opened || now === 'unknown' ? [] : [moved(path)]
      return warnings.length > 0
    },
    warnings: () => warnings,
  }
}

function idOf(path: string): string {
  try {
    const state = statSync(path, { throwIfNoEntry: false, bigint: true })
    return state === undefined ? 'none' : `${state.dev}/${state.ino}`
  } catch {
    return 'unknown'
  }
}

const moved = (path: string): Problem =>
  problem(
    'file-moved',
    `The data file ${basename(path)} was deleted or moved from ${dirname(path)} while it was open. ` +
      'What is in it is kept in a backup. Restart the app and open the newest copy.',
  )
