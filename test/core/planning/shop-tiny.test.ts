import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readShopTiny, shopTinyProblem } from '../../../benchmarks/formats/shop-tiny.ts'
import { plan } from '../../../core/planning/search/plan.ts'

// Answers proven by exhaustive search, and found again by a constraint model in another system; see test/reference/README.md.
const folder = new URL('../../reference/shop-tiny/', import.meta.url)
const known = new URL('known.csv', folder)

interface Known {
  readonly instance: string
  readonly makespan: number
  readonly status: string
  readonly tardiness: number
  readonly makespanAtTardiness: number
}

const rows = (): Known[] =>
  readFileSync(known, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','))
    .map((cells) => ({
      instance: cells[0] ?? '',
      makespan: Number(cells[1]),
      status: cells[4] ?? '',
      tardiness: Number(cells[6]),
      makespanAtTardiness: Number(cells[7]),
    }))

const planned = ({ instance }: Known, aim: 'soonest' | 'promises') =>
  plan(shopTinyProblem(readShopTiny(readFileSync(new URL(instance, folder), 'utf8')), aim), { schedules: 5_000 })

describe('tiny shops with proven answers', () => {
  it.each(rows().filter(({ status }) => status === 'optimal'))(
    '$instance is planned as well as can be, with the proof',
    (row) => {
      const soonest = planned(row, 'soonest')
      expect(soonest.ok && soonest.value).toMatchObject({
        quality: 'optimal',
        objective: { makespanMin: row.makespan },
      })
      const kept = planned(row, 'promises')
      expect(kept.ok && kept.value).toMatchObject({
        quality: 'optimal',
        objective: { weightedTardiness: row.tardiness, makespanMin: row.makespanAtTardiness },
      })
    },
  )

  it.each(rows().filter(({ status }) => status === 'infeasible'))('$instance is refused with the window', (row) => {
    const refused = planned(row, 'promises')
    expect(refused.ok ? '' : refused.problems[0]?.code).toBe('window-cannot-be-met')
  })
})
