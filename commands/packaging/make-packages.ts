import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { chmodSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { packager } from '@electron/packager'
import { projectFolder } from '../run-program.ts'
import { debianPackage } from './debian-package.ts'
import { EXECUTABLE, packagesFolder } from './names.ts'
import { findRuntime } from './runtime.ts'
import { setFuses } from './set-fuses.ts'
import { stageApp } from './stage-app.ts'

interface About {
  readonly version: string
  readonly productName: string
  readonly description: string
}

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
  const [made] = await packager({
    dir: staged,
    out: join(work, 'packaged'),
    // The usual one is everybody's: whoever packages begins by emptying it, under the hands of another project's packaging too.
    tmpdir: join(work, 'packager'),
    name: about.productName,
    executableName: EXECUTABLE,
    appVersion: about.version,
    appBundleId: 'org.outofclamps.app',
    appCategoryType: 'public.app-category.productivity',
    // Native code is loaded by the system, which cannot look into an archive.
    asar: { unpack: '**/*.node' },
    prune: false,
    quiet: true,
    electronVersion: runtime.version,
    ...(runtime.zipFolder === null ? {} : { electronZipDir: runtime.zipFolder }),
  })
  if (made === undefined) throw new Error('The packager made nothing for this system.')
  await setFuses(made, about.productName)
  const folder = join(packagesFolder, `${EXECUTABLE}-${about.version}-${process.platform}-${process.arch}`)
  renameSync(made, folder)
  // The packager makes it for this user alone.
  chmodSync(folder, 0o755)
  archive(folder)
  if (process.platform === 'linux') await debianPackage(folder, about)
  billOfMaterials(`${EXECUTABLE}-${about.version}.cdx.json`)
  rmSync(work, { recursive: true })
  return [...filesToHandOut(), checksums()]
}

/** The folder as one file, made by the system's own program, which keeps who may run what. */
function archive(folder: string): void {
  const [name, type] = process.platform === 'linux' ? ['tar.gz', ['czf']] : ['zip', ['acf']]
  execFileSync('tar', [...type, `${folder}.${name}`, basename(folder)], { cwd: packagesFolder, stdio: 'inherit' })
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
