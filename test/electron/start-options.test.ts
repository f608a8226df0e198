import { resolve } from 'node:path'
import { describe, expect, test } from 'vitest'
import { readStartOptions, startClock, testClockStart, writeStartOptions } from '../../electron/start-options.ts'

describe('what the app is started with', () => {
  test.each([
    [[], { demo: false, dataFolder: undefined, tray: 'auto' }],
    [['--demo'], { demo: true, dataFolder: undefined, tray: 'auto' }],
    [['--data', 'shop'], { demo: false, dataFolder: resolve('shop'), tray: 'auto' }],
    [['--data=shop', '--tray=never'], { demo: false, dataFolder: resolve('shop'), tray: 'never' }],
  ] as const)('is read from %j', (args, options) => {
    expect(readStartOptions(args)).toEqual({ ok: true, value: options })
  })

  test.each([['--dema'], ['shop'], ['--data'], ['--data='], ['--tray=perhaps'], ['--tray']])(
    'is refused with a sentence where it is not known: %s',
    (arg) => {
      expect(readStartOptions([arg])).toMatchObject({ ok: false, problems: [{ code: 'unknown-option' }] })
    },
  )

  test('is found among the arguments that are Electron’s own', () => {
    const args = ['/somewhere/app', '--no-sandbox', '--inspect=0', '--demo', '--data=shop']
    expect(readStartOptions(args, 'others ignored')).toEqual({
      ok: true,
      value: { demo: true, dataFolder: resolve('shop'), tray: 'auto' },
    })
  })

  test('reads the same once it was written', () => {
    const options = { demo: true, dataFolder: resolve('a shop'), tray: 'always' } as const
    expect(readStartOptions(writeStartOptions(options))).toEqual({ ok: true, value: options })
  })
})

describe('the clock that the desk is opened with', () => {
  test('is the computer’s own', () => {
    expect(testClockStart({})).toBeNull()
    const { clock, forTests } = startClock(null)
    expect(forTests).toBe(false)
    const [before, now, after] = [Date.now(), clock.nowMs(), Date.now()]
    expect(now).toBeGreaterThanOrEqual(before)
    expect(now).toBeLessThanOrEqual(after)
  })

  test('is one for tests when the environment names an instant', () => {
    const startMs = testClockStart({ OUT_OF_CLAMPS_TEST_CLOCK: '2026-03-03T15:00:00Z' })
    expect(startMs).toBe(Date.UTC(2026, 2, 3, 15))
    const beforeMs = performance.now()
    const { clock, forTests } = startClock(startMs)
    expect(forTests).toBe(true)
    const goneMs = clock.nowMs() - Date.UTC(2026, 2, 3, 15)
    expect(goneMs).toBeGreaterThanOrEqual(0)
    expect(goneMs).toBeLessThanOrEqual(performance.now() - beforeMs)
  })

  test('is none when that is no instant', () => {
    expect(() => testClockStart({ OUT_OF_CLAMPS_TEST_CLOCK: 'tuesday' })).toThrow(/tuesday/)
  })
})
