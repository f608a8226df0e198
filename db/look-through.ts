import { type Examination, type ExamineElsewhere, examineFile, isLargeFile } from './examine-file.ts'

/** Looks through an open shop's file or a copy of it; null: the shop is being closed, and nobody waits for the answer any more. */
export type LookThrough = (path: string, depth: 'quick' | 'whole') => Promise<Examination | null>

/**
 * A large file is looked through in another process, as the thread that the desk answers on would stand still for seconds. Where that
 * process cannot be had, it does stand still: a copy is never taken for good unseen.
 */
export function lookingThrough(
  known: readonly string[],
  elsewhere: ExamineElsewhere | undefined,
  signal: AbortSignal,
): LookThrough {
  return async (path, depth) => {
    if (elsewhere === undefined || !isLargeFile(path)) return examineFile(path, known, depth)
    if (signal.aborted) return null
    try {
      return await elsewhere(path, known, depth, signal)
    } catch (fault) {
      console.error('A file could not be looked through in another process:', fault)
      return examineFile(path, known, depth)
    }
  }
}
