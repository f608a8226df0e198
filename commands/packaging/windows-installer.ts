import { execFileSync } from 'node:child_process'
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { createWindowsInstaller, type Options } from 'electron-winstaller'
import { projectFolder } from '../run-program.ts'
import { EXECUTABLE, MAKERS, type About } from './names.ts'

const maker = join(projectFolder, 'node_modules/electron-winstaller')

/** What the maker of the installer is told: it puts the packaged folder into `file`, within the folder `work`. */
export const installerOptions = (about: About, folder: string, work: string, file: string): Options => ({
  appDirectory: folder,
  outputDirectory: work,
  usePackageJson: false,
  name: EXECUTABLE,
  exe: `${EXECUTABLE}.exe`,
  title: about.productName,
  version: about.version,
  description: about.description,
  authors: MAKERS,
  setupExe: file,
  setupIcon: join(projectFolder, 'electron/icon.ico'),
  nuspecTemplate: join(work, 'installed.nuspectemplate'),
  // For the user who starts it, without an administrator; and there is nothing that is brought up to date from elsewhere.
  noMsi: true,
  noDelta: true,
})

/**
 * The maker's list of what is installed, with Chromium's licenses, and without the address of an icon, which would be fetched
 * from the network wherever the program is installed.
 */
export function listOfInstalled(template: string): string {
  const changed = template
    .replace(/^.*<iconUrl>.*\r?\n/m, '')
    .replace(/^( *)<file src="LICENSE" .*\r?\n/m, '$&$1<file src="LICENSES.chromium.html" target="lib\\net45" />\n')
  if (changed.includes('iconUrl') || !changed.includes('chromium'))
    throw new Error('The list of what is installed is not as it was: see commands/packaging/windows-installer.ts.')
  return changed
}

/** An installer for Windows, by the Electron project's own maker, out of the packaged folder. */
export async function windowsInstaller(
  folder: string,
  about: About,
  work: string,
  to: string,
  file: string,
): Promise<void> {
  const options = installerOptions(about, folder, work, file)
  writeFileSync(
    join(work, 'installed.nuspectemplate'),
    listOfInstalled(readFileSync(join(maker, 'template.nuspectemplate'), 'utf8')),
  )
  // Its script after an installation, which npm does not run here: picks the archiver for this processor.
  execFileSync(process.execPath, ['script/select-7z-arch.js'], { cwd: maker, stdio: 'inherit' })
  await createWindowsInstaller(options)
  copyFileSync(join(work, file), join(to, file))
}
