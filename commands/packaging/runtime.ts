import { execFileSync } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { findElectron } from '../../test/support/electron-program.ts'
import { projectFolder } from '../run-program.ts'

export interface Runtime {
  readonly version: string
  /** Folder with the runtime's zip; null: the packager downloads it. */
  readonly zipFolder: string | null
  /** The file of better-sqlite3 that this runtime takes in place of the prebuilt one; null: the prebuilt one. */
  readonly binding: string | null
}

/**
 * The Electron to package: the pinned one wherever its release page can be reached, else the one that the tests run on, which is
 * made into a zip as the packager wants it.
 */
export async function findRuntime(work: string): Promise<Runtime> {
  const electron = await findElectron()
  if (!electron.there) throw new Error(electron.why)
  const given = electron.value.env['ELECTRON_OVERRIDE_DIST_PATH'] ?? process.env['ELECTRON_OVERRIDE_DIST_PATH']
  if (given === undefined) return { version: versionOf('electron'), zipFolder: null, binding: null }
  return zipped(given, work)
}

function zipped(folder: string, work: string): Runtime {
  const version = /electron-(\d+\.\d+\.\d+)$/.exec(folder)?.[1]
  if (version === undefined) throw new Error(`The version of the Electron in ${folder} is not in its name.`)
  const content = join(work, 'content')
  mkdirSync(join(content, 'resources'), { recursive: true })
  for (const name of readdirSync(folder).filter((each) => each !== 'resources'))
    cpSync(join(folder, name), join(content, name), { recursive: true })
  // A release has these two besides; the packager and its users look for them.
  writeFileSync(join(content, 'version'), version)
  const license = join(content, 'LICENSE')
  if (!existsSync(license)) cpSync(join(content, 'LICENSE.electron.txt'), license)
  const zip = join(work, `electron-v${version}-${process.platform}-${process.arch}.zip`)
  execFileSync('zip', ['-q', '-r', '-1', zip, '.'], { cwd: content, stdio: 'inherit' })
  const binding = join(folder, 'resources', `better-sqlite3-${versionOf('better-sqlite3')}.node`)
  return { version, zipFolder: dirname(zip), binding: existsSync(binding) ? binding : null }
}

const versionOf = (name: string): string =>
  (JSON.parse(readFileSync(join(projectFolder, 'node_modules', name, 'package.json'), 'utf8')) as { version: string })
    .version
