import { describe, expect, it } from 'vitest'
import {
  checkJobShop,
  checkLaggedProject,
  checkOneMachine,
  checkProject,
  checkTinyShop,
} from '../../../../benchmarks/check-answer.ts'

const project = `jobs (incl. supersource/sink ):  4
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          0
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
----------------
  1      1     0       0
  2      1     3       2
  3      1     2       2
  4      1     0       0
RESOURCEAVAILABILITIES:
  R 1
   3
`

const lagged = `2 1 0 0
0 1 1 1 [0]
1 1 2 2 3 [4] [2]
2 1 2 1 3 [-6] [3]
3 1 0
0 1 0 0
1 1 2 1
2 1 3 1
3 1 0 0
1
`

describe('the checker of benchmark answers', () => {
  it('accepts a project schedule and says what it is worth', () => {
    expect(checkProject(project, [0, 0, 3, 5])).toEqual({ fine: true, value: 5 })
  })

  it.each([
    ['an overloaded resource', [0, 0, 0, 3]],
    ['a broken precedence', [0, 0, 3, 4]],
    ['a start before the beginning', [0, -1, 3, 5]],
    ['a start that is no whole number', [0, 0, 3.5, 6]],
    ['a missing start', [0, 0, 3]],
  ])('refuses %s', (_, starts) => {
    expect(checkProject(project, starts).fine).toBe(false)
  })

  it('accepts lags that are just kept and refuses those just missed', () => {
    expect(checkLaggedProject(lagged, [0, 0, 4, 7])).toEqual({ fine: true, value: 7 })
    expect(checkLaggedProject(lagged, [0, 0, 6, 9])).toEqual({ fine: true, value: 9 })
    expect(checkLaggedProject(lagged, [0, 0, 3, 7]).fine).toBe(false)
    expect(checkLaggedProject(lagged, [0, 0, 7, 10]).fine).toBe(false)
  })

  it('counts weighted tardiness and refuses jobs that overlap', () => {
    expect(checkOneMachine('2 3\n5 7\n1 3\n', [0, 2])).toEqual({ fine: true, value: 5 * 1 + 7 * 2 })
    expect(checkOneMachine('2 3\n5 7\n1 3\n', [0, 1]).fine).toBe(false)
  })

  it('refuses two operations on one machine and a job out of order', () => {
    const shop = '2 2\n0 3 1 2\n0 2 1 4\n'
    expect(
      checkJobShop(shop, [
        [0, 3],
        [3, 5],
      ]),
    ).toEqual({ fine: true, value: 9 })
    expect(
      checkJobShop(shop, [
        [0, 3],
        [2, 5],
      ]).fine,
    ).toBe(false)
    expect(
      checkJobShop(shop, [
        [0, 2],
        [3, 5],
      ]).fine,
    ).toBe(false)
  })

  it('times a tiny shop and says what is broken in it', () => {
    const shop = JSON.stringify({
      windows: [
        [0, 100],
        [200, 300],
      ],
      makers: 1,
      stations: [{ id: 'clamps', capacity: 1 }],
      commissions: [{ id: 'c', due: 240, weight: 2 }],
      steps: [
        {
          commission: 'c',
          duration: 60,
          interruptible: false,
          hands: 1,
          release: 0,
          holds: [{ station: 'clamps', units: 1, until: 'start-of', step: 1 }],
        },
        { commission: 'c', duration: 50, interruptible: true, hands: 1, release: 0, holds: [] },
        {
          commission: 'c',
          duration: 10,
          interruptible: false,
          hands: 0,
          release: 0,
          holds: [{ station: 'clamps', units: 1, until: 'end' }],
        },
      ],
      lags: [{ from: 0, to: 1, min: 20, max: 150 }],
    })
    expect(checkTinyShop(shop, [0, 80, 250])).toEqual({ fine: true, makespan: 260, tardiness: 40 })
    const faultOf = (starts: readonly number[]) => {
      const verdict = checkTinyShop(shop, starts)
      return verdict.fine ? 'none' : verdict.fault
    }
    expect(faultOf([50, 200, 250])).toBe('step 0 does not fit its session')
    expect(faultOf([0, 70, 250])).toBe('the lag from 0 to 1 is 10')
    expect(faultOf([0, 220, 250])).toBe('the lag from 0 to 1 is 160')
    expect(faultOf([0, 80, 70])).toBe('too few clamps at 70')
    expect(faultOf([0, 120, 250])).toBe('step 1 starts while the shop is closed')
    expect(faultOf([0, 290, 250])).toBe('step 1 is not finished before the shop closes for good')
  })
})
