import { failed, problem, type Result } from '../core/problems.ts'
import { isSystemError } from '../db/durable-files.ts'

/** A setting in a file of its own that the disk refused: full, broken, no permission. @throws anything else, which is a bug */
export function settingNotKept(error: unknown): Result<never> {
  if (!isSystemError(error)) throw error
  return failed(problem('setting-not-kept', `This could not be kept (${error.message}): check the disk.`))
}
