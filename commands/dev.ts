import { readStartOptions, writeStartOptions } from '../electron/start-options.ts'
import { findWindowProgram, sandboxSwitch } from './electron.ts'
import { runProgram } from './run-program.ts'

// The window over the development server: pages change as their sources do, the main process restarts when its do.
const options = readStartOptions(process.argv.slice(2))
const found = findWindowProgram()
if (!options.ok || !('program' in found)) {
  console.error(
    options.ok && 'why' in found ? `No window: ${found.why}.` : 'npm run dev takes --demo and --data FOLDER.',
  )
  process.exit(1)
}
const args = ['dev', '--watch', ...sandboxSwitch().map(() => '--noSandbox'), '--', ...writeStartOptions(options.value)]
const { code } = await runProgram('electron-vite/bin/electron-vite.js', args, {
  env: { ELECTRON_EXEC_PATH: found.program, OUT_OF_CLAMPS_DEVELOPMENT: 'yes' },
})
process.exit(code)
