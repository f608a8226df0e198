import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { pageFile } from '../../electron/page-files.ts'

describe('the files of the pages', () => {
  let folder = ''
  beforeAll(() => {
    const parent = mkdtempSync(join(tmpdir(), 'page-files-'))
    folder = join(parent, 'pages')
    mkdirSync(join(folder, 'assets'), { recursive: true })
    mkdirSync(join(folder, 'folder.js'))
    writeFileSync(join(folder, 'index.html'), '<title>Shop</title>')
    writeFileSync(join(folder, 'assets/a b.js'), '1')
    writeFileSync(join(folder, 'shop.sqlite'), 'not for pages')
    writeFileSync(join(parent, 'outside.js'), 'not for pages')
    mkdirSync(join(parent, 'pages-too'))
    writeFileSync(join(parent, 'pages-too/near.js'), 'not for pages')
  })
  afterAll(() => rmSync(join(folder, '..'), { recursive: true }))

  test.each([
    ['/', 'text/html; charset=utf-8'],
    ['/index.html', 'text/html; charset=utf-8'],
    ['/assets/a%20b.js', 'text/javascript; charset=utf-8'],
  ])('are sent with their type and the policy: %s', async (path, type) => {
    const file = await pageFile(folder, path)
    expect(file?.headers).toMatchObject({ 'content-type': type, 'x-content-type-options': 'nosniff' })
    expect(file?.headers['content-security-policy']).toMatch(/^default-src 'none'; script-src 'self';/)
  })

  test.each([
    '/../outside.js',
    '/%2e%2e/outside.js',
    '/..%2foutside.js',
    '/assets/../../outside.js',
    '/../pages-too/near.js',
    '/shop.sqlite',
    '/folder.js',
    '/no-such.js',
    '/index.html%00.js',
    '/%E0%A4%A.js',
    `/${'x'.repeat(5000)}.js`,
    '',
  ])('are all that there is: %s', async (path) => {
    expect(await pageFile(folder, path)).toBeUndefined()
  })
})
