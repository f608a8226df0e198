import { expect, test, vi } from 'vitest'
import { randomStream } from '../../core/chance/seeded-random.ts'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

vi.setConfig({ testTimeout: 180_000 })

const row = (name: string, minutes: string, kind: string, wait = '') => ({
  ...{ name, minutes, kind, wait, atMost: '', after: '', dusty: false, units: kind === 'glue-up' ? '2' : '' },
})
const ROWS = [
  row('Cut the boards', '60 min', 'machine'),
  row('Glue the shelves', '30 min', 'glue-up', '4 h'),
  row('Sand them', '30 min', 'hand'),
  row('First coat', '15 min', 'coat', '12 h'),
  row('Pack them', '15 min', 'hand'),
]
const ACTS_EACH = 50

test.each([1, 2])(
  'random acts (seed %i) keep book and log consistent, and undoing them all brings the book back',
  async (seed) => {
    const { fraction: random } = randomStream(seed)
    const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!
    const one = await aDesk()
    const { ask, call, setClock } = one
    const draft = aDraft({ pieces: [aPiece({ title: 'Shelf', rows: ROWS }, 'free-list', '3')] })
    const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-05-18' })
    const stepsOf = async () => (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
    const shown = async () =>
      (await stepsOf()).map(({ stepId, name, lot, state, work, lost }) => ({ stepId, name, lot, state, work, lost }))
    const before = await shown()
    const taken = (await ask.commission({ id })).history.length
    let kept = 0
    let now = Date.parse('2026-03-04T01:00:00Z')

    for (let act = 0; act < ACTS_EACH; act++) {
      now += Math.floor(random() * 300) * 60_000
      await setClock(new Date(now).toISOString())
      const steps = await stepsOf()
      const { stepId, againFrom, count } = pick(steps)
      const minutes = steps.reduce((sum, { workedMinutes }) => sum + (workedMinutes ?? 0), 0)
      const day = new Date(now - 6 * 3_600_000).toISOString().slice(0, 10)
      const what = pick(['start', 'pause', 'done', 'already', 'right', 'move', 'fail', 'undo'] as const)
      const reply =
        what === 'start'
          ? await call.stepStart({ stepId, anyway: true })
          : what === 'pause'
            ? await call.stepPause({ stepId })
            : what === 'done'
              ? await call.stepDone({ stepId, anyway: true })
              : what === 'already'
                ? await call.stepDone({ stepId, anyway: true, workedMin: 20 })
                : what === 'right'
                  ? await call.stepPutRight({
                      stepId,
                      stretches: [{ day, from: '1 PM', until: '30 min', makerId: null }],
                      isDone: random() < 0.5,
                    })
                  : what === 'move'
                    ? await call.stepMove({ stepId, toStepId: pick(steps).stepId })
                    : what === 'fail'
                      ? await call.stepFailed({
                          stepId,
                          fromStepId: pick([{ stepId }, ...againFrom]).stepId,
                          count: 1 + Math.floor(random() * count),
                          reason: 'mistake',
                          note: '',
                        })
                      : await call.undo({
                          entryId: pick(
                            (await ask.commission({ id })).history.filter(({ canUndo }) => canUndo).slice(0, 3),
                          ).entryId,
                        })
      if (!reply.ok) continue
      kept += 1
      const after = await stepsOf()
      // A failure loses nothing of what was worked, a press only adds to it.
      const worked = after.reduce((sum, { workedMinutes }) => sum + (workedMinutes ?? 0), 0)
      if (what !== 'undo' && what !== 'right') expect(worked, `${what} in act ${act}`).toBeGreaterThanOrEqual(minutes)
      for (const { work, state } of after) {
        for (const { fromAt, toAt } of work) if (toAt !== null) expect(toAt).toBeGreaterThanOrEqual(fromAt)
        expect(work.some(({ toAt }) => toAt === null)).toBe(state === 'running')
      }
      expect((await ask.shopState()).inTheWay).toEqual([])
    }

    expect(kept).toBeGreaterThan(ACTS_EACH / 4)
    for (let presses = 0; presses < 2 * ACTS_EACH; presses++) {
      const { history } = await ask.commission({ id })
      const last = history.find(({ canUndo }) => canUndo)
      if (last === undefined || history.filter(({ canUndo }) => canUndo).length <= taken) break
      await ask.undo({ entryId: last.entryId })
    }
    expect(await shown()).toEqual(before)
  },
)
