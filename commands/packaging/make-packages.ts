import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { chmodSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { packager } from '@electron/packager'
import { projectFolder } from '../run-program.ts'
import { debianPackage, hasDpkg } from './debian-package.ts'
import { diskImage } from './disk-image.ts'
import { EXECUTABLE, nameHere, packagesFolder, type About } from './names.ts'
import { packagerOptions } from './packager-options.ts'
import { findRuntime } from './runtime.ts'
import { setFuses } from './set-fuses.ts'
import { stageApp } from './stage-app.ts'
import { windowsInstaller } from './windows-installer.ts'

/**
 * Packages the build in `out/` for this computer's system, each file new.
 * @returns paths of the files to hand out, checksums last
 */
export async function makePackages(): Promise<string[]> {
  const about = JSON.parse(readFileSync(join(projectFolder, 'package.json'), 'utf8')) as About
  rmSync(packagesFolder, { recursive: true, force: true })
  mkdirSync(packagesFolder)
  const work = join(packagesFolder, 'work')
  const runtime = await findRuntime(join(work, 'runtime'))
  const staged = stageApp(join(work, 'app'), runtime.binding)
  const [made] = await packager(packagerOptions(about, runtime, staged, work))
  if (made === undefined) throw new Error('The packager made nothing for this system.')
  await setFuses(made, about.productName)
  const folder = join(packagesFolder, nameHere(about))
  renameSync(made, folder)
  // The packager makes it for this user alone.
  chmodSync(folder, 0o755)
  await filesFor(process.platform, folder, about, work)
  billOfMaterials(`${EXECUTABLE}-${about.version}.cdx.json`)
  rmSync(work, { recursive: true })
  return [...filesToHandOut(), checksums()]
}

/** What a maker downloads and opens: on Linux a package for Debian and a plain archive, elsewhere what installs by itself. */
async function filesFor(platform: NodeJS.Platform, folder: string, about: About, work: string): Promise<void> {
  if (platform === 'win32') {
    const installer = join(work, 'installer')
    mkdirSync(installer)
    await windowsInstaller(folder, about, installer, packagesFolder, `${basename(folder)}-setup.exe`)
  } else if (platform === 'darwin') diskImage(folder, about.productName, `${folder}.dmg`)
  else {
    // By the system's own program, which keeps who may run what.
    execFileSync('tar', ['czf', `${folder}.tar.gz`, basename(folder)], { cwd: packagesFolder, stdio: 'inherit' })
    if (hasDpkg()) await debianPackage(folder, about)
    else console.log('No package for Debian: there is no dpkg here to make it with.')
  }
}

/** What it consists of, as CycloneDX, by npm. */
function billOfMaterials(name: string): void {
  const npm = process.env['npm_execpath']
  const [program, first] = npm === undefined ? ['npm', []] : [process.execPath, [npm]]
  const sbom = execFileSync(program, [...first, 'sbom', '--sbom-format=cyclonedx', '--package-lock-only'], {
    cwd: projectFolder,
    maxBuffer: 1 << 28,
    shell: npm === undefined && process.platform === 'win32',
  })
  writeFileSync(join(packagesFolder, name), sbom)
}

const filesToHandOut = (): string[] =>
  readdirSync(packagesFolder, { withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => join(packagesFolder, name))
    .sort()

/** In the form that `sha256sum --check` reads. */
function checksums(): string {
  const lines = filesToHandOut().map(
    (file) => `${createHash('sha256').update(readFileSync(file)).digest('hex')}  ${basename(file)}\n`,
  )
  const path = join(packagesFolder, 'SHA256SUMS')
  writeFileSync(path, lines.join(''))
  return path
}
