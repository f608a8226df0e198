import { execFileSync } from 'node:child_process'
import { symlinkSync } from 'node:fs'
import { join } from 'node:path'

/** What macOS's own program for disk images is told. */
export const imageArguments = (folder: string, volume: string, file: string): readonly string[] => [
  'create',
  ...['-volname', volume],
  ...['-srcfolder', folder],
  ...['-fs', 'HFS+'],
  ...['-format', 'UDZO'],
  file,
]

/** A disk image for macOS: the program, its licenses, and beside it the folder that it is dragged into. */
export function diskImage(folder: string, volume: string, file: string): void {
  symlinkSync('/Applications', join(folder, 'Applications'))
  execFileSync('hdiutil', imageArguments(folder, volume, file), { stdio: 'inherit' })
}
