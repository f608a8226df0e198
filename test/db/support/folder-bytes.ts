import { createHash } from 'node:crypto'
import { readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'

/** Every file in a folder and below it, with a fingerprint of its bytes: two equal answers mean that nothing was written. */
export function folderBytes(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()
  return Object.fromEntries(
    files
      .filter((name) => statSync(join(folder, name)).isFile())
      .map((name) => [
        name,
        createHash('sha256')
          .update(readFileSync(join(folder, name)))
          .digest('hex'),
      ]),
  )
}
