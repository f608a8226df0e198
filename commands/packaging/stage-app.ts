import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { projectFolder } from '../run-program.ts'

/**
 * Puts together what a package carries, and nothing else: the build, and better-sqlite3 with its file for this system.
 * @param binding the file to take in place of the prebuilt one; null: the prebuilt one
 */
export function stageApp(folder: string, binding: string | null): string {
  const { name, productName, version, description, type, main, dependencies } = JSON.parse(
    readFileSync(join(projectFolder, 'package.json'), 'utf8'),
  ) as Record<string, unknown>
  mkdirSync(folder, { recursive: true })
  writeFileSync(
    join(folder, 'package.json'),
    JSON.stringify({ name, productName, version, description, type, main, dependencies }, null, 2),
  )
  for (const part of ['main', 'preload', 'renderer'])
    cpSync(join(projectFolder, 'out', part), join(folder, 'out', part), { recursive: true })
  const from = join(projectFolder, 'node_modules/better-sqlite3')
  const to = join(folder, 'node_modules/better-sqlite3')
  for (const part of ['lib', 'package.json', 'LICENSE']) cpSync(join(from, part), join(to, part), { recursive: true })
  const prebuilt = join('prebuilds', `${process.platform}-${process.arch}.node`)
  cpSync(binding ?? join(from, prebuilt), join(to, prebuilt))
  return folder
}
