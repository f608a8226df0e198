import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { BookLag, BookStep } from '../../../core/book/book.ts'
import type { PieceNetwork } from '../../../core/book/remake.ts'
import { withExtras } from '../../../core/book/extras-carried.ts'
import { addExtraStep, doEarlier, leaveOut, mayComeBefore, type ExtraStep } from '../../../core/book/steps-by-hand.ts'
import { untouched, type StepProgress } from '../../../core/book/step-progress.ts'

const step = (position: number, key: string, holds: BookStep['holds'] = []): BookStep => ({
  ...{ id: key, pieceId: 'p', commissionId: 'c', position, lot: 1, lots: 1, lotCount: 1, key, operation: key },
  ...{ name: key, note: '', minutes: 30, optimisticMin: 20, pessimisticMin: 60, units: null, hands: 1, setUp: null },
  ...{
    interruptible: true,
    smallestStretchMin: 10,
    dusty: false,
    tackyMin: 0,
    tackyProduct: null,
    cautions: [],
    holds,
  },
})
const lag = (from: string, to: string, wait: BookLag['wait'] = 'none', minMin = 0): BookLag => ({
  ...{ pieceId: 'p', fromStep: from, toStep: to, from, to, wait, name: '', minMin, optimisticMin: minMin },
  ...{ pessimisticMin: minMin, maxMin: null, remedy: null, product: null, source: '' },
})
const board: PieceNetwork = {
  steps: [
    step(0, 'mill'),
    step(1, 'glue', [{ station: 'clamps', units: 4, until: { kind: 'start-of', step: 'sand' } }]),
    step(2, 'sand'),
    step(3, 'ease'),
    step(4, 'coat'),
  ],
  lags: [lag('mill', 'glue'), lag('glue', 'sand', 'curing', 600), lag('sand', 'ease'), lag('ease', 'coat')],
}
const done: StepProgress = {
  ...untouched,
  ...{ kind: 'done', startedAt: 0, endedAt: 10, workedMin: 10, makerId: null },
}
const nothingDone = (): StepProgress => untouched
const arrows = ({ lags }: PieceNetwork): string[] => lags.map(({ fromStep, toStep }) => `${fromStep} ${toStep}`).sort()
const namesOf = ({ steps }: PieceNetwork): string[] =>
  steps.toSorted((a, b) => a.position - b.position).map(({ name }) => name)
function ids(): () => string {
  let last = 0
  return () => `new-${++last}`
}
const engraving: ExtraStep = { name: 'Engrave the initials', minutes: 40, kind: 'hand', awayMin: 0 }
const value = <T>(result: { ok: true; value: T } | { ok: false; problems: readonly { message: string }[] }): T => {
  if (!result.ok) throw new Error(result.problems[0]?.message)
  return result.value
}

describe('steps of one order by hand', () => {
  test('an extra step waits as long as what it is put before, and that waits for it', () => {
    const made = value(addExtraStep(board, 'glue', engraving, ids()))
    expect(namesOf(made)).toEqual(['mill', 'glue', 'Engrave the initials', 'sand', 'ease', 'coat'])
    expect(made.lags.find(({ toStep }) => toStep === 'new-1')).toMatchObject({ wait: 'curing', minMin: 600 })
    expect(arrows(made)).toContain('new-1 sand')
  })

  test('outside work is taken there, away without hands, and fetched', () => {
    const made = value(addExtraStep(board, 'ease', { ...engraving, kind: 'outside', awayMin: 5 * 1440 }, ids()))
    expect(namesOf(made).slice(3)).toEqual([
      'ease',
      'Send out: Engrave the initials',
      'Fetch: Engrave the initials',
      'coat',
    ])
    expect(made.lags.find(({ fromStep }) => fromStep === 'new-1')).toMatchObject({
      ...{ toStep: 'new-2', wait: 'resting', minMin: 7200, pessimisticMin: 10_800 },
    })
    expect(addExtraStep(board, 'ease', { ...engraving, kind: 'outside' }, ids())).toMatchObject({ ok: false })
  })

  test('machine work raises dust and brings its cautions along', () => {
    const made = value(addExtraStep(board, 'ease', { ...engraving, kind: 'machine' }, ids()))
    const extra = made.steps.find(({ id }) => id === 'new-1')!
    expect(extra.dusty).toBe(true)
    expect(extra.cautions.length).toBeGreaterThan(0)
  })

  test('a step that is left out passes its wait on, and frees what was held until it', () => {
    const made = value(leaveOut(board, 'sand', nothingDone))
    expect(namesOf(made)).toEqual(['mill', 'glue', 'ease', 'coat'])
    expect(made.lags.find(({ toStep }) => toStep === 'ease')).toMatchObject({ fromStep: 'glue', minMin: 600 })
    expect(made.steps.find(({ id }) => id === 'glue')!.holds[0]!.until).toEqual({ kind: 'start-of', step: 'ease' })
    expect(leaveOut(board, 'mill', () => done)).toMatchObject({ ok: false, problems: [{ code: 'begun' }] })
  })

  test('two steps change places where no wait forbids it', () => {
    expect(mayComeBefore(board, 'coat', nothingDone)?.id).toBe('ease')
    expect(mayComeBefore(board, 'sand', nothingDone)).toBeNull()
    // The clamps stay on until sanding starts.
    expect(mayComeBefore(board, 'ease', nothingDone)).toBeNull()
    expect(mayComeBefore(board, 'coat', (id) => (id === 'ease' ? done : untouched))).toBeNull()
    const made = value(doEarlier(board, 'coat', nothingDone))
    expect(namesOf(made)).toEqual(['mill', 'glue', 'sand', 'coat', 'ease'])
    expect(arrows(made)).toEqual(['coat ease', 'glue sand', 'mill glue', 'sand coat', 'sand ease'])
  })

  test('extra steps stay with a changed piece, behind what they followed', () => {
    const made = value(addExtraStep(board, 'ease', { ...engraving, kind: 'outside', awayMin: 1440 }, ids()))
    const lot = withExtras(
      {
        count: 1,
        steps: [step(0, 'mill'), step(1, 'ease'), step(2, 'oil')],
        lags: [lag('mill', 'ease'), lag('ease', 'oil')],
      },
      made,
    )
    expect(lot.steps.map(({ name }) => name)).toEqual([
      'mill',
      'ease',
      'Send out: Engrave the initials',
      'Fetch: Engrave the initials',
      'oil',
    ])
    const [send, fetch] = lot.steps.slice(2)
    expect(lot.lags.find(({ from }) => from === send!.key)).toMatchObject({ to: 'oil' })
    expect(lot.lags.find(({ from, to }) => from === send!.key && to === fetch!.key)).toMatchObject({ minMin: 1440 })
    expect(lot.lags.some(({ from, to }) => from === fetch!.key && to === 'oil')).toBe(true)
  })

  test('whatever is done to a network, it has no circles, and lags and holds lead to steps that are there', () => {
    const acts = fc.array(fc.record({ what: fc.constantFrom('add', 'outside', 'out', 'earlier'), at: fc.nat(30) }), {
      maxLength: 20,
    })
    fc.assert(
      fc.property(acts, (chosen) => {
        const newId = ids()
        let piece: PieceNetwork = board
        for (const { what, at } of chosen) {
          const { id } = piece.steps[at % piece.steps.length]!
          const made =
            what === 'add' || what === 'outside'
              ? addExtraStep(
                  piece,
                  id,
                  { ...engraving, kind: what === 'add' ? 'hand' : 'outside', awayMin: 1440 },
                  newId,
                )
              : what === 'out'
                ? leaveOut(piece, id, nothingDone)
                : doEarlier(piece, id, nothingDone)
          if (made.ok) piece = made.value
          const known = new Set(piece.steps.map((each) => each.id))
          expect(known.size).toBe(piece.steps.length)
          expect(new Set(piece.steps.map(({ key }) => key)).size).toBe(piece.steps.length)
          const place = new Map(piece.steps.map((each) => [each.id, each.position]))
          // Every lag leads forward in reading order: so there is no circle.
          for (const { fromStep, toStep } of piece.lags) {
            expect(known.has(fromStep) && known.has(toStep)).toBe(true)
            expect(place.get(fromStep)!).toBeLessThan(place.get(toStep)!)
          }
          const keys = new Set(piece.steps.map(({ key }) => key))
          for (const { holds } of piece.steps)
            for (const { until } of holds) if ('step' in until) expect(keys.has(until.step)).toBe(true)
        }
      }),
    )
  })
})
