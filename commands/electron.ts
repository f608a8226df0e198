import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { projectFolder } from './run-program.ts'

/** The Electron to start, downloaded first if need be; or why there can be no window, as half a sentence. */
export function findWindowProgram(): { readonly program: string } | { readonly why: string } {
  if (process.platform === 'linux' && !process.env['DISPLAY'] && !process.env['WAYLAND_DISPLAY'])
    return { why: 'there is no display' }
  const program = process.env['ELECTRON_EXEC_PATH'] ?? downloaded()
  return program !== undefined && existsSync(program)
    ? { program }
    : { why: 'Electron’s own files are not here and cannot be downloaded' }
}

/** What Electron itself says while it downloads is of use; the stack trace of a failed one is not. */
function downloaded(): string | undefined {
  const { status, stdout } = spawnSync(process.execPath, ['-p', "require('electron')"], {
    cwd: projectFolder,
    encoding: 'utf8',
  })
  return status === 0 ? stdout.trim().split('\n').at(-1) : undefined
}

/** Chromium's sandbox does not run as root; without this the window would not open at all. */
export const sandboxSwitch = (): string[] => (process.getuid?.() === 0 ? ['--no-sandbox'] : [])
