import { join } from 'node:path'
import type { Options } from '@electron/packager'
import { SCHEME } from '../../core/labels/piece-code.ts'
import { projectFolder } from '../run-program.ts'
import { EXECUTABLE, type About } from './names.ts'
import type { Runtime } from './runtime.ts'

/**
 * What Electron's packager is told.
 * @param staged folder with what the package carries
 * @param work folder for what is thrown away afterwards
 */
export const packagerOptions = (about: About, runtime: Runtime, staged: string, work: string): Options => ({
  dir: staged,
  out: join(work, 'packaged'),
  // The usual one is everybody's: whoever packages begins by emptying it, under the hands of another project's packaging too.
  tmpdir: join(work, 'packager'),
  name: about.productName,
  executableName: EXECUTABLE,
  appVersion: about.version,
  appBundleId: 'org.outofclamps.app',
  appCategoryType: 'public.app-category.productivity',
  // The packager adds `.ico` or `.icns`; on Linux the desktop entry has the icon.
  icon: join(projectFolder, 'electron/icon'),
  // Codes on tags are opened by it: so macOS is told; the packages for the other two tell their system themselves.
  protocols: [{ name: about.productName, schemes: [SCHEME] }],
  // Native code is loaded by the system, which cannot look into an archive.
  asar: { unpack: '**/*.node' },
  prune: false,
  quiet: true,
  electronVersion: runtime.version,
  ...(runtime.zipFolder === null ? {} : { electronZipDir: runtime.zipFolder }),
})
