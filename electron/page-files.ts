import { readFile } from 'node:fs/promises'
import { extname, join, resolve, sep } from 'node:path'

/** A file of the built pages, ready to be sent by either shell. */
export interface PageFile {
  readonly body: Buffer
  readonly headers: Readonly<Record<string, string>>
}

/** What a page may load and run: nothing but the app's own files. */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "require-trusted-types-for 'script'",
  'trusted-types svelte-trusted-html',
].join('; ')

/**
 * The file behind a URL path, or undefined when the built pages hold no such file. Nothing outside the folder and no
 * kind of file that pages do not need is ever read.
 */
export async function pageFile(folder: string, urlPath: string): Promise<PageFile | undefined> {
  const name = decoded(urlPath === '/' ? '/index.html' : urlPath)
  const type = name === undefined ? undefined : types[extname(name)]
  if (name === undefined || type === undefined) return undefined

  const root = resolve(folder)
  const file = join(root, name)
  if (!file.startsWith(root + sep)) return undefined
  try {
    return { body: await readFile(file), headers: { ...headers, 'content-type': type } }
  } catch (error) {
    if (isMissing(error)) return undefined
    throw error
  }
}

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
}

const headers = {
  'content-security-policy': contentPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'cache-control': 'no-cache',
}

function decoded(urlPath: string): string | undefined {
  try {
    const name = decodeURIComponent(urlPath)
    return name.includes('\0') ? undefined : name
  } catch {
    return undefined
  }
}

const isMissing = (error: unknown): boolean =>
  error instanceof Error &&
  'code' in error &&
  ['ENOENT', 'EISDIR', 'ENOTDIR', 'ENAMETOOLONG'].includes(String(error.code))
