import { chmodSync, lstatSync, readdirSync } from 'node:fs'
import { join } from 'node:path'

/**
 * Closes a data folder and the order book in it to other users of the computer, where it is found open to them: names,
 * addresses and allergies stand in it. Folders shared by design (such as the one for temporary files) are left alone.
 */
export function keepPrivate(folder: string): void {
  if (process.platform === 'win32') return
  tighten(folder, 0o700)
  for (const name of readdirSync(folder)) if (/^(shop\.|in-use\.)/.test(name)) tighten(join(folder, name), 0o600)
  for (const inside of ['backups', 'set-aside']) {
    if (readdirSync(folder).includes(inside)) tighten(join(folder, inside), 0o700)
  }
}

function tighten(path: string, wanted: number): void {
  const state = lstatSync(path)
  const isShared = (state.mode & 0o1000) !== 0
  if (state.isSymbolicLink() || isShared || state.uid !== process.getuid?.() || (state.mode & 0o077) === 0) return
  chmodSync(path, state.isDirectory() ? 0o700 : wanted)
}
