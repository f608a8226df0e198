import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { hasDpkg } from '../../commands/packaging/debian-package.ts'
import { imageArguments } from '../../commands/packaging/disk-image.ts'
import { icnsOf, ICNS_SIZES_PX, icoOf, ICO_SIZES_PX, type Picture } from '../../commands/packaging/icon-files.ts'
import { packagerOptions } from '../../commands/packaging/packager-options.ts'
import { installerOptions, listOfInstalled } from '../../commands/packaging/windows-installer.ts'
import { pieceCode } from '../../core/labels/piece-code.ts'

const project = join(import.meta.dirname, '../..')
const about = { version: '1.2.3', productName: 'Out of Clamps', description: 'A job book' }
const bytesOf = (path: string): Buffer => readFileSync(join(project, path))

describe('what Electron’s packager is told', () => {
  const options = packagerOptions(about, { version: '45.4.1', zipFolder: null, binding: null }, '/staged', '/work')

  test('has an icon for both systems that take it from there', () => {
    for (const ending of ['ico', 'icns']) expect(bytesOf(join('electron', `icon.${ending}`)).length).toBeGreaterThan(0)
    expect(options.icon).toBe(join(project, 'electron/icon'))
  })

  test('names the scheme of the codes on tags', () => {
    const [scheme] = pieceCode({ order: 12, piece: 1 }).split(':')
    expect(options.protocols).toEqual([{ name: 'Out of Clamps', schemes: [scheme] }])
  })

  test('takes a runtime that is there instead of fetching one', () => {
    expect(options).not.toHaveProperty('electronZipDir')
    const given = packagerOptions(about, { version: '33.2.1', zipFolder: '/zips', binding: null }, '/staged', '/work')
    expect(given).toMatchObject({ electronVersion: '33.2.1', electronZipDir: '/zips' })
  })
})

describe('the installer for Windows', () => {
  test('is made of the packaged folder, for one user, with the program’s own name and icon', () => {
    expect(installerOptions(about, '/packages/folder', '/work/installer', 'setup.exe')).toMatchObject({
      appDirectory: '/packages/folder',
      outputDirectory: '/work/installer',
      exe: 'out-of-clamps.exe',
      title: 'Out of Clamps',
      version: '1.2.3',
      setupExe: 'setup.exe',
      setupIcon: join(project, 'electron/icon.ico'),
      noMsi: true,
    })
  })

  test('brings Chromium’s licenses, and fetches no icon from the network', () => {
    const template = bytesOf('node_modules/electron-winstaller/template.nuspectemplate').toString('utf8')
    expect(template).toContain('iconUrl')
    const list = listOfInstalled(template)
    expect(list).not.toContain('iconUrl')
    expect(list.match(/<file src="LICENSES?[^>]*>/g)).toEqual([
      '<file src="LICENSE" target="lib\\net45\\LICENSE" />',
      '<file src="LICENSES.chromium.html" target="lib\\net45" />',
    ])
    // Nothing else of the list is gone.
    expect(list.split('\n')).toHaveLength(template.split('\n').length)
    expect(() => listOfInstalled(template.replace('src="LICENSE"', 'src="COPYING"'))).toThrow('not as it was')
  })
})

test('a package for Debian is made where the search path leads to its program, and only there', () => {
  const folder = mkdtempSync(join(tmpdir(), 'out-of-clamps-path-'))
  onTestFinished(() => rmSync(folder, { recursive: true }))
  const path = ['/nowhere', folder].join(delimiter)
  expect(hasDpkg(path)).toBe(false)
  writeFileSync(join(folder, 'dpkg-deb'), '')
  expect(hasDpkg(path)).toBe(true)
})

test('the disk image for macOS is the packaged folder, under the program’s name', () => {
  expect(imageArguments('/packages/folder', 'Out of Clamps', '/packages/x.dmg').join(' ')).toBe(
    'create -volname Out of Clamps -srcfolder /packages/folder -fs HFS+ -format UDZO /packages/x.dmg',
  )
})

describe('the icon files', () => {
  /** As the directory of an `.ico` says: reserved, type 1, count; then side, colors, planes, depth, length and place of each. */
  function readIco(file: Buffer): Picture[] {
    expect([file.readUInt16LE(0), file.readUInt16LE(2)]).toEqual([0, 1])
    return Array.from({ length: file.readUInt16LE(4) }, (_, index) => {
      const entry = 6 + 16 * index
      const from = file.readUInt32LE(entry + 12)
      return { px: file[entry] || 256, png: file.subarray(from, from + file.readUInt32LE(entry + 8)) }
    })
  }

  function readIcns(file: Buffer): { name: string; png: Buffer }[] {
    expect(file.toString('latin1', 0, 4)).toBe('icns')
    expect(file.readUInt32BE(4)).toBe(file.length)
    const blocks = []
    for (let at = 8; at < file.length; at += file.readUInt32BE(at + 4))
      blocks.push({
        name: file.toString('latin1', at, at + 4),
        png: file.subarray(at + 8, at + file.readUInt32BE(at + 4)),
      })
    return blocks
  }

  /** Width and height, which a PNG has at the beginning of its first chunk (ISO/IEC 15948, 11.2.2). */
  const sidesPx = (png: Buffer): number[] => {
    expect(png.toString('latin1', 0, 8)).toBe('\x89PNG\r\n\x1a\n')
    return [png.readUInt32BE(16), png.readUInt32BE(20)]
  }

  test('of Windows holds each picture in the size that it says, the largest the one that Linux has', () => {
    const pictures = readIco(bytesOf('electron/icon.ico'))
    expect(pictures.map(({ px }) => px)).toEqual(ICO_SIZES_PX)
    for (const { px, png } of pictures) expect(sidesPx(png)).toEqual([px, px])
    expect(pictures.at(-1)?.png.equals(bytesOf('renderer/public/icon.png'))).toBe(true)
    expect(icoOf(pictures).equals(bytesOf('electron/icon.ico'))).toBe(true)
  })

  test('of macOS does, too', () => {
    const blocks = readIcns(bytesOf('electron/icon.icns'))
    expect(blocks.map(({ name, png }) => [name, ...sidesPx(png)])).toEqual([
      ['ic11', 32, 32],
      ['ic12', 64, 64],
      ['ic07', 128, 128],
      ['ic08', 256, 256],
      ['ic09', 512, 512],
      ['ic10', 1024, 1024],
    ])
    const pictures = blocks.map(({ png }, index) => ({ px: ICNS_SIZES_PX[index]!, png }))
    expect(icnsOf(pictures).equals(bytesOf('electron/icon.icns'))).toBe(true)
  })
})
