import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { isWithinReach, recallWindow, rememberWindow } from '../../electron/window-memory.ts'

describe('what the window remembers', () => {
  let folder = ''
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'window-memory-'))
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  test('is recalled as it was', () => {
    const memory = { bounds: { x: 1, y: 2, width: 900, height: 700 }, maximized: true, staysInTray: false }
    rememberWindow(folder, memory)
    expect(recallWindow(folder)).toEqual(memory)
  })

  test.each(['', '{', 'null', '[]', '{"bounds":{"x":"far left"},"maximized":"yes"}'])(
    'is nothing when its file holds %j',
    (text) => {
      writeFileSync(join(folder, 'window.json'), text)
      expect(recallWindow(folder)).toEqual({ bounds: undefined, maximized: false, staysInTray: true })
    },
  )

  test('is used only where the window can be reached', () => {
    const screens = [{ x: 0, y: 0, width: 1920, height: 1080 }]
    expect(isWithinReach({ x: 100, y: 100, width: 900, height: 700 }, screens)).toBe(true)
    expect(isWithinReach({ x: 1700, y: 100, width: 900, height: 700 }, screens)).toBe(true)
    expect(isWithinReach({ x: 1900, y: 100, width: 900, height: 700 }, screens)).toBe(false)
    expect(isWithinReach({ x: 100, y: -300, width: 900, height: 700 }, screens)).toBe(false)
    expect(isWithinReach({ x: 2000, y: 100, width: 900, height: 700 }, screens)).toBe(false)
  })
})
