import { readdirSync, statSync } from 'node:fs'
import { userInfo } from 'node:os'
import { join } from 'node:path'

/** Folders of sticks and disks that are plugged in, where each system shows them: offered, so that no path has to be typed. */
export function otherDisks(platform: NodeJS.Platform = process.platform): string[] {
  if (platform === 'win32')
    return [...'DEFGHIJKLMNOPQRSTUVWXYZ'].map((letter) => `${letter}:\\`).filter((path) => isDisk(path))
  const user = userInfo().username
  const parents = platform === 'darwin' ? ['/Volumes'] : [`/media/${user}`, `/run/media/${user}`]
  return parents.flatMap((parent) => foldersIn(parent)).filter((path) => isDisk(path))
}

function foldersIn(parent: string): string[] {
  try {
    return readdirSync(parent, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => join(parent, entry.name))
  } catch {
    return []
  }
}

function isDisk(path: string): boolean {
  try {
    return statSync(path).isDirectory()
  } catch {
    return false
  }
}
