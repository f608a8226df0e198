import { EventEmitter } from 'node:events'
import type { App } from 'electron'
import { expect, test } from 'vitest'
import { codesHandedOver, screenOfCode } from '../../electron/code-opened.ts'

test('a code that the system hands over opens its piece, whatever else was said at the start', () => {
  expect(screenOfCode(['--data=/tmp/shop', 'out-of-clamps:12/1'])).toBe('#/no/12/1')
  expect(screenOfCode(['--demo', 'out-of-clamps://javascript:alert(1)/1'])).toBeNull()
  expect(screenOfCode([])).toBeNull()
})

test('a code that macOS hands over before there is a window waits for it; later ones are opened at once', () => {
  const app = new EventEmitter()
  const codes = codesHandedOver(app as unknown as App)
  let prevented = 0
  const handOver = (code: string): boolean => app.emit('open-url', { preventDefault: () => prevented++ }, code)
  handOver('out-of-clamps:12/1')
  const opened: string[] = []
  expect(codes((code) => opened.push(code))).toEqual(['out-of-clamps:12/1'])
  expect(opened).toEqual([])
  handOver('out-of-clamps:13/2')
  expect(opened).toEqual(['out-of-clamps:13/2'])
  expect(prevented).toBe(2)
})
