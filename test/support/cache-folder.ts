import { homedir } from 'node:os'
import { join } from 'node:path'

/** A folder for what tests unpack or build once and keep. */
export const cacheFolder = (name: string): string =>
  join(process.env['XDG_CACHE_HOME'] || join(homedir(), '.cache'), 'out-of-clamps', name)
