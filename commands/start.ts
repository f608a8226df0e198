import { spawn } from 'node:child_process'
import { readStartOptions, writeStartOptions } from '../electron/start-options.ts'
import { buildIfStale } from './build.ts'
import { findWindowProgram, sandboxSwitch } from './electron.ts'
import { projectFolder } from './run-program.ts'

const options = readStartOptions(process.argv.slice(2))
if (!options.ok) {
  for (const { message } of options.problems) console.error(message)
  process.exit(1)
}
if (!(await buildIfStale())) process.exit(1)

const args = writeStartOptions(options.value)
const found = findWindowProgram()
const window = 'program' in found
if (!window) console.log(`No window: ${found.why}. The same app opens in a browser instead.`)

const child = window
  ? spawn(found.program, [...sandboxSwitch(), projectFolder, ...args], { stdio: 'inherit' })
  : spawn(process.execPath, ['out/main/serve.js', ...args], { cwd: projectFolder, stdio: 'inherit' })
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
  process.on(signal, () => {
    if (signal !== 'SIGINT' || !process.stdin.isTTY) child.kill(signal)
  })
}
child.on('error', (error) => {
  console.error(`The app did not start: ${error.message}`)
  process.exit(1)
})
child.on('exit', (code) => process.exit(code ?? 1))
