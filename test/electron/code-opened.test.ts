import { expect, test } from 'vitest'
import { screenOfCode } from '../../electron/code-opened.ts'

test('a code that the system hands over opens its piece, whatever else was said at the start', () => {
  expect(screenOfCode(['--data=/tmp/shop', 'out-of-clamps:12/1'])).toBe('#/no/12/1')
  expect(screenOfCode(['--demo', 'out-of-clamps://javascript:alert(1)/1'])).toBeNull()
  expect(screenOfCode([])).toBeNull()
})
