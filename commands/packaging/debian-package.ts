import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import installer from 'electron-installer-debian'
import { SCHEME } from '../../core/labels/piece-code.ts'
import { projectFolder } from '../run-program.ts'
import { EXECUTABLE, MAKERS, packagesFolder, type About } from './names.ts'

/** Whether the program that makes such packages is here; systems that are not Debian's kin mostly lack it. */
export const hasDpkg = (path = process.env['PATH'] ?? ''): boolean =>
  path.split(delimiter).some((folder) => existsSync(join(folder, 'dpkg-deb')))

/** A package for Debian and its kin, out of the packaged folder: program, desktop entry, icon. It touches nobody's data. */
export async function debianPackage(folder: string, { version, productName, description }: About): Promise<void> {
  await installer({
    src: folder,
    dest: packagesFolder,
    arch: process.arch === 'arm64' ? 'arm64' : 'amd64',
    options: {
      name: EXECUTABLE,
      bin: EXECUTABLE,
      productName,
      genericName: 'Order book',
      version,
      description,
      productDescription: `${description}: dates that a maker can keep, what waits on glue and finish, lumber, price and papers.`,
      maintainer: `${MAKERS} <maker@localhost>`,
      section: 'misc',
      // Codes on tags are opened by it.
      mimeType: [`x-scheme-handler/${SCHEME}`],
      categories: ['Office', 'ProjectManagement'],
      icon: join(projectFolder, 'renderer/public/icon.png'),
      // Quick to make and to open; dpkg has known it since Debian 12.
      compression: 'zstd',
    },
  })
}
