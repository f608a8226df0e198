import { execFile, execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync, existsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { brotliDecompressSync } from 'node:zlib'
import type { LaunchOptions } from 'playwright-core'
import { cacheFolder } from './cache-folder.ts'
import { available, missing, type Means } from './means.ts'

/**
 * A browser for the tests: the Chromium that comes with the development dependencies where it runs, elsewhere one that is
 * installed on the machine.
 */
export async function findBrowser(): Promise<Means<LaunchOptions>> {
  const tried: string[] = []
  for (const candidate of [unpackedChromium, ...installedBrowsers]) {
    try {
      const options = candidate()
      if (options === undefined) continue
      await answersVersion(options)
      return available({ ...options, args: [...quietly] })
    } catch (error) {
      tried.push(error instanceof Error ? (error.message.trim().split('\n').at(-1) ?? '') : String(error))
    }
  }
  return missing(`no browser runs on this machine (${tried.join('; ') || 'none was found'})`)
}

// Not the packed Chromium's own list of switches: it turns web security off.
const quietly = [
  '--headless=shell',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

type Candidate = () => LaunchOptions | undefined

function unpackedChromium(): LaunchOptions | undefined {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined
  const packed = join(dirname(createRequire(import.meta.url).resolve('@sparticuz/chromium')), '../bin')
  const program = join(packed, 'chromium.br')
  // Under the hash of what is in the package: never a file of another version or owner.
  const folder = cacheFolder(`chromium-${hashOf(program)}`)
  if (!existsSync(folder)) {
    mkdirSync(dirname(folder), { recursive: true })
    const fresh = mkdtempSync(`${folder}-`)
    writeFileSync(join(fresh, 'chromium'), brotliDecompressSync(readFileSync(program)), { mode: 0o755 })
    // The libraries of NSS, for machines that lack them.
    const libraries = brotliDecompressSync(readFileSync(join(packed, 'al2023.tar.br')))
    execFileSync('tar', ['-x', '-C', fresh], { input: libraries })
    moveInPlace(fresh, folder)
  }
  const executablePath = join(folder, 'chromium')
  return lacksLibraries(executablePath)
    ? { executablePath, env: withLibraries(join(folder, 'lib')) }
    : { executablePath }
}

const hashOf = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex').slice(0, 16)

function moveInPlace(fresh: string, folder: string): void {
  try {
    renameSync(fresh, folder)
  } catch (error) {
    // Another run may have been faster.
    rmSync(fresh, { recursive: true, force: true })
    if (!existsSync(folder)) throw error
  }
}

const lacksLibraries = (program: string): boolean =>
  execFileSync('ldd', [program], { encoding: 'utf8' }).includes('not found')

/** The machine's own libraries come first; the brought ones only where something would be missing. */
function withLibraries(brought: string): NodeJS.ProcessEnv {
  const own = process.env['LD_LIBRARY_PATH']
  return { ...process.env, LD_LIBRARY_PATH: own ? `${own}:${brought}` : brought }
}

const installedBrowsers: readonly Candidate[] = [
  ...['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'].map((name) => () => onPath(name)),
  () => atPlace('/Applications/Google Chrome.app/Contents/MacOS/Google Chrome'),
  () => atPlace('/Applications/Chromium.app/Contents/MacOS/Chromium'),
  () => atPlace(join(process.env['PROGRAMFILES'] ?? '', 'Google/Chrome/Application/chrome.exe')),
  () => atPlace(join(process.env['PROGRAMFILES(X86)'] ?? '', 'Microsoft/Edge/Application/msedge.exe')),
]

const onPath = (name: string): LaunchOptions | undefined =>
  (process.env['PATH'] ?? '')
    .split(process.platform === 'win32' ? ';' : ':')
    .map((folder) => atPlace(join(folder, name)))
    .find((found) => found !== undefined)

const atPlace = (executablePath: string): LaunchOptions | undefined =>
  existsSync(executablePath) ? { executablePath } : undefined

const answersVersion = ({ executablePath, env }: LaunchOptions): Promise<void> =>
  new Promise((resolve, reject) => {
    // On Windows a browser opens instead of answering.
    if (process.platform === 'win32' || executablePath === undefined) return resolve()
    execFile(executablePath, ['--version'], { env: { ...process.env, ...env }, timeout: 20_000 }, (error) => {
      if (error === null) resolve()
      else reject(error)
    })
  })
