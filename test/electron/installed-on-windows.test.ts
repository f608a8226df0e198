import { describe, expect, test } from 'vitest'
import { doInstallerTask, installerTask } from '../../electron/installed-on-windows.ts'

test('only the installer of Windows gives tasks; a start to use the program is none', () => {
  expect(installerTask('win32', ['--squirrel-install', '1.2.3'])).toBe('settle in')
  expect(installerTask('win32', ['--squirrel-updated', '1.2.3'])).toBe('settle in')
  expect(installerTask('win32', ['--squirrel-uninstall', '1.2.3'])).toBe('move out')
  expect(installerTask('win32', ['--squirrel-obsolete', '1.2.3'])).toBe('nothing')
  expect(installerTask('win32', ['--squirrel-firstrun'])).toBeNull()
  expect(installerTask('win32', [])).toBeNull()
  expect(installerTask('win32', ['out-of-clamps:12/1'])).toBeNull()
  expect(installerTask('linux', ['--squirrel-uninstall', '1.2.3'])).toBeNull()
})

describe('a task of the installer', () => {
  /** What is asked of Electron and of the installer's own program, in order. */
  function asked(task: 'settle in' | 'move out' | 'nothing'): string[] {
    const calls: string[] = []
    const app = {
      setAsDefaultProtocolClient: (scheme: string) => calls.push(`codes ${scheme}`) > 0,
      removeAsDefaultProtocolClient: (scheme: string) => calls.push(`no codes ${scheme}`) > 0,
      exit: () => void calls.push('end'),
    }
    const run = (program: string, args: readonly string[], done: () => void): void => {
      calls.push([program, ...args].join(' '))
      done()
    }
    doInstallerTask(task, app, '/there/app-1.2.3/out-of-clamps.exe', run)
    return calls
  }

  test('puts the program into the menu and has it open codes, and ends after that', () => {
    expect(asked('settle in')).toEqual([
      'codes out-of-clamps',
      '/there/Update.exe --createShortcut=out-of-clamps.exe',
      'end',
    ])
  })

  test('takes back both', () => {
    expect(asked('move out')).toEqual([
      'no codes out-of-clamps',
      '/there/Update.exe --removeShortcut=out-of-clamps.exe',
      'end',
    ])
    expect(asked('nothing')).toEqual(['end'])
  })
})
