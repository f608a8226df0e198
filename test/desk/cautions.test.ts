import { describe, expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

const oiled = aPiece({ finish: 'tung_pure', food: true, coats: '2' })
const order = (customer: object) => {
  const draft = aDraft({ pieces: [oiled] })
  return {
    draft: { ...draft, customer: { ...draft.customer, ...customer } },
    standing: 'agreed' as const,
    promisedFor: null,
  }
}

describe('cautions', () => {
  test('name the rags at every coat on the Commission and on the Bench, where the worst two are shown', async () => {
    const { ask, setClock } = await aDesk()
    const { commissionId: id } = await ask.takeOrder(order({}))
    const { pieces } = await ask.commission({ id })
    const coats = pieces[0]!.steps.filter(({ name }) => name.endsWith('coat'))
    expect(coats).toHaveLength(2)
    for (const { cautions } of coats) expect(cautions.map((one) => one.id)).toEqual(['rag_fire', 'nut', 'food_contact'])

    let shown: readonly string[] = []
    for (let presses = 0; presses < 40 && shown.length === 0; presses += 1) {
      const bench = await ask.bench({ rows: 24 })
      const next = bench.canStart[0] ?? bench.comingUp[0]!
      await setClock(new Date(next.plannedAt! * 60_000).toISOString())
      await ask.stepStart({ stepId: next.stepId })
      const running = (await ask.bench({ rows: 24 })).onTheBench[0]!
      expect(running.cautions.length).toBeLessThanOrEqual(2)
      if (running.name === 'First coat') shown = running.cautions.map((one) => one.id)
      await setClock(new Date(running.plannedEndAt! * 60_000).toISOString())
      await ask.stepDone({ stepId: next.stepId })
    }
    expect(shown).toEqual(['rag_fire', 'nut'])
  })

  // Common practice, no source: after ten hours machines wait.
  test('say that the day has been long where a machine is next, from ten hours of logged work on', async () => {
    const { ask, setClock } = await aDesk({ at: '2026-03-07T15:00:00Z' })
    const { commissionId: id } = await ask.takeOrder(order({}))
    const first = (await ask.bench({ rows: 24 })).canStart[0] ?? (await ask.bench({ rows: 24 })).comingUp[0]!
    await ask.stepStart({ stepId: first.stepId })
    const onTheBench = async () => (await ask.bench({ rows: 24 })).onTheBench[0]!.cautions.map((one) => one.id)
    const toldAt = async () => {
      const { steps } = (await ask.commission({ id })).pieces[0]!
      return steps.filter(({ cautions }) => cautions.some((one) => one.id === 'alone')).map(({ name }) => name)
    }
    await setClock('2026-03-07T20:00:00Z')
    await ask.stepPause({ stepId: first.stepId })
    await setClock('2026-03-07T20:30:00Z')
    await ask.stepStart({ stepId: first.stepId })
    await setClock('2026-03-07T23:30:00Z')
    expect([await onTheBench(), await toldAt()]).toEqual([expect.not.arrayContaining(['alone']), []])
    await setClock('2026-03-08T01:50:00Z')
    // Two at most stand on the Bench: this one is among them.
    expect(await onTheBench()).toContain('alone')
    expect(await toldAt()).toEqual(expect.not.arrayContaining(['First coat', 'Inspect and pack']))
  })

  test('bring small parts up before a piece leaves for a home with a small child, and for no other', async () => {
    const { ask } = await aDesk()
    const idsAtTheEnd = async (childUnder3: string) => {
      const { commissionId: id } = await ask.takeOrder(order({ childUnder3 }))
      const { steps } = (await ask.commission({ id })).pieces[0]!
      expect(steps.slice(0, -1).some(({ cautions }) => cautions.some((one) => one.id === 'small_parts'))).toBe(false)
      return steps.at(-1)!.cautions.map((one) => one.id)
    }
    expect(await idsAtTheEnd('yes')).toContain('small_parts')
    expect(await idsAtTheEnd('no')).not.toContain('small_parts')
  })

  test('say at finish and hand-over what allergies were told of, also where the finish has none in it', async () => {
    const { ask } = await aDesk()
    const mineral = aPiece({ finish: 'mineral_oil_wax' })
    const linesOf = async (allergies: string) => {
      const told = order({ allergies })
      const { commissionId: id } = await ask.takeOrder({ ...told, draft: { ...told.draft, pieces: [mineral] } })
      const { steps } = (await ask.commission({ id })).pieces[0]!
      return steps.flatMap(({ name, cautions }) =>
        cautions.filter((one) => one.id === 'nut').map(({ text }) => `${name}: ${text}`),
      )
    }
    const told = await linesOf('walnuts')
    expect(told.map((line) => line.replace(/:.*$/, ''))).toEqual([
      'First coat',
      'Second coat',
      'Third coat',
      'Inspect and pack',
    ])
    expect(told[0]).toMatch(/This buyer told of: walnuts\.$/)
    expect(await linesOf('none')).toEqual([])
  })
})
