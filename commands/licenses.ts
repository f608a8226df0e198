import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { projectFolder } from './run-program.ts'

/** Libraries of others whose code or files are in the build; two of them come along with Svelte, and most of those about certificates with `@peculiar/x509`. */
export const BUNDLED = [
  '@date-fns/tz',
  '@fontsource-variable/source-sans-3',
  '@peculiar/asn1-asym-key',
  '@peculiar/asn1-cms',
  '@peculiar/asn1-csr',
  '@peculiar/asn1-ecc',
  '@peculiar/asn1-pfx',
  '@peculiar/asn1-pkcs8',
  '@peculiar/asn1-pkcs9',
  '@peculiar/asn1-rsa',
  '@peculiar/asn1-schema',
  '@peculiar/asn1-x509',
  '@peculiar/asn1-x509-attr',
  '@peculiar/asn1-x509-post-quantum',
  '@peculiar/utils',
  '@peculiar/x509',
  'asn1js',
  'better-sqlite3',
  'clsx',
  'csv-stringify',
  'date-fns',
  'esm-env',
  'ical-generator',
  'kysely',
  'pvtsutils',
  'pvutils',
  'qr',
  'reflect-metadata',
  'svelte',
  'tslib',
  'tsyringe',
  'zod',
] as const

/** Their names, versions and licenses as one text for About. */
export const licensesText = (): string =>
  [
    'Out of Clamps is built with the work of others. Thank you.',
    ...BUNDLED.map(licenseOf),
    `${licenseOf('electron-winstaller')}\n\nWhat installs and removes the program on Windows is Squirrel.Windows, Copyright (c) 2012 GitHub, Inc., under the same license.`,
    'SQLite\n\nSQLite is in the public domain.',
    'Electron and Chromium\n\nTheir licenses come with the program, as LICENSE and LICENSES.chromium.html: beside it, on macOS in the disk image. Debian has the first as /usr/share/doc/out-of-clamps/copyright.',
  ].join(`\n\n${'-'.repeat(72)}\n\n`) + '\n'

function licenseOf(name: string): string {
  const folder = join(projectFolder, 'node_modules', name)
  const about = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
    readonly version: string
    readonly license: string
  }
  const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each))
  const text =
    file !== undefined && existsSync(join(folder, file)) ? readFileSync(join(folder, file), 'utf8').trim() : ''
  return `${name} ${about.version} (${about.license})\n\n${text}`.trimEnd()
}
