import { describe, expect, it } from 'vitest'
import { checkJobShop, checkLaggedProject, checkOneMachine, checkProject } from '../../../../bench/check-answer.ts'

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
})
