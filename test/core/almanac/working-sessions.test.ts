import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { NOTHING_BUT_WORK, workingSessions } from '../../../core/almanac/working-sessions.ts'

describe('hours of work', () => {
  const day = [{ from: 480, to: 1020 }]

  it('are the hours in the shop where nothing else is said', () =>
    expect(workingSessions(day, NOTHING_BUT_WORK)).toBe(day))

  // 8:00 to 17:00 with a quarter to warm up, a quarter to put away and half an hour off: 8:15 to 12:15 and 12:45 to 16:45.
  it('leave out warm-up, putting away and the break of a long session', () =>
    expect(workingSessions(day, { warmUpMin: 15, putAwayMin: 15, breakMin: 30, breakOverMin: 300 })).toEqual([
      { from: 495, to: 735 },
      { from: 765, to: 1005 },
    ]))

  it('have no break in a short evening, and are none where nothing is left', () => {
    const facts = { warmUpMin: 20, putAwayMin: 10, breakMin: 30, breakOverMin: 300 }
    expect(workingSessions([{ from: 0, to: 180 }], facts)).toEqual([{ from: 20, to: 170 }])
    expect(workingSessions([{ from: 0, to: 30 }], facts)).toEqual([])
  })

  it('lie within the hours in the shop, in order and apart', () => {
    const facts = fc.record({
      warmUpMin: fc.nat(240),
      putAwayMin: fc.nat(240),
      breakMin: fc.nat(240),
      breakOverMin: fc.integer({ min: 60, max: 1440 }),
    })
    fc.assert(
      fc.property(fc.nat(1000), fc.integer({ min: 1, max: 900 }), facts, (from, length, said) => {
        const session = { from, to: from + length }
        const work = workingSessions([session], said)
        for (const [index, part] of work.entries()) {
          expect(part.from).toBeGreaterThanOrEqual(work[index - 1]?.to ?? session.from)
          expect(part.to).toBeGreaterThan(part.from)
          expect(part.to).toBeLessThanOrEqual(session.to)
        }
      }),
    )
  })
})
