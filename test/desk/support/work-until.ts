import type { TestDesk } from './a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()

/** Works off what the Bench offers until a step of that name is done; gives the instant at which it was. */
export async function workUntil({ ask, setClock }: TestDesk, name: string): Promise<number> {
  for (let presses = 0; presses < 60; presses++) {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]
    if (next?.plannedAt == null || next.plannedEndAt === null) throw new Error(`${name} is never offered.`)
    await setClock(at(next.plannedAt))
    await ask.stepStart({ stepId: next.stepId })
    const started = await ask.bench({ rows: 24 })
    const end = started.onTheBench[0]?.plannedEndAt ?? next.plannedEndAt
    const closesAt = started.session?.toAt ?? end
    if (closesAt < end) {
      await setClock(at(closesAt))
      await ask.stepPause({ stepId: next.stepId })
      await setClock(at(end - 5))
      await ask.stepStart({ stepId: next.stepId })
    }
    await setClock(at(end))
    await ask.stepDone({ stepId: next.stepId })
    if (next.name === name) return end
  }
  throw new Error(`${name} is never reached.`)
}
