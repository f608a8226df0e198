import { describe, expect, test } from 'vitest'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { aDesk, aDraft, aFolder, aPiece } from './support/a-desk.ts'
import type { CommissionView } from '../../desk/screens/commission.ts'

const tray = aPiece({ fieldKind: 'staves', woodA: 'maple', length: '16', width: '12', stave: '4' }, 'framed-field')
const dry = { ...ALMANAC_HOME, kind: 'dry' }
const dryHome = { driest: { celsius: 22, rh: 0.15 }, dampest: { celsius: 25, rh: 0.4 } }
const order = (home = ALMANAC_HOME) => ({
  draft: aDraft({ pieces: [tray], home }),
  standing: 'agreed' as const,
  promisedFor: '2026-05-30',
})

const grooveOf = ({ pieces }: CommissionView) => {
  const fact = pieces[0]?.geometry.find(({ key }) => key === 'groove')
  return { nm: fact?.value.kind === 'length' ? fact.value.nm : NaN, rule: fact?.rule ?? '' }
}
const noteOf = ({ pieces }: CommissionView): string =>
  pieces[0]?.steps.find(({ name }) => name === 'Groove the edges of the field')?.note ?? ''

describe('the home of one order', () => {
  test('decides how deep the grooves of its pieces are, on New order and Commission, and nobody else’s', async () => {
    const { ask } = await aDesk()
    const quoted = await ask.draftQuote({ draft: order(dry).draft, asked: 'dates' })
    const quotedGroove = quoted.pieces[0]?.geometry.find(({ key }) => key === 'groove')
    const usual = await ask.commission({ id: (await ask.takeOrder(order())).commissionId })
    const dryOne = await ask.commission({ id: (await ask.takeOrder(order(dry))).commissionId })
    // In a dry home wood grows less than in the usual one, so the groove is shallower.
    expect(grooveOf(dryOne).nm).toBeLessThan(grooveOf(usual).nm)
    expect(quotedGroove?.value).toEqual({ kind: 'length', nm: grooveOf(dryOne).nm })
    expect(grooveOf(dryOne).rule).toMatch(/In this customer’s home, as said with the order, .*\(72 °F, 15%\)/)
    expect(grooveOf(usual).rule).toMatch(/In the customer’s home it goes/)
    expect(noteOf(dryOne)).not.toBe(noteOf(usual))
    expect(dryOne.home).toEqual(dryHome)
    expect(usual.home).toBeNull()
  })

  test('changed later, it changes sizes and the note at the step, is told in the history, and is taken back', async () => {
    const { ask } = await aDesk()
    const { commissionId: id } = await ask.takeOrder(order())
    const before = await ask.commission({ id })
    const { entryId } = await ask.commissionChange({ id, changes: { home: dryHome } })
    const after = await ask.commission({ id })
    expect(grooveOf(after).nm).toBeLessThan(grooveOf(before).nm)
    expect(noteOf(after)).not.toBe(noteOf(before))
    expect(after.history[0]?.text).toBe('Changed climate: No. 1, Ada Quist')
    expect(after.doneAt).toBe(before.doneAt)

    await ask.undo({ entryId: entryId! })
    const back = await ask.commission({ id })
    expect([back.home, grooveOf(back), noteOf(back)]).toEqual([null, grooveOf(before), noteOf(before)])
  })

  test('is refused, by field, where a figure makes no sense, and nothing is taken', async () => {
    const { ask, call } = await aDesk()
    const airs = { driest: { temperature: '68', humidity: '60' }, dampest: { temperature: '77', humidity: '30' } }
    const turned = await call.takeOrder(order({ kind: 'own', ...airs }))
    expect(turned).toMatchObject({ ok: false, problems: [{ code: 'home-turned', field: 'home.dampest.humidity' }] })
    expect((await ask.orderBook()).open).toEqual([])

    const { commissionId: id } = await ask.takeOrder(order())
    const upsideDown = { driest: dryHome.dampest, dampest: dryHome.driest }
    expect(await call.commissionChange({ id, changes: { home: upsideDown } })).toMatchObject({
      ok: false,
      problems: [{ code: 'home-turned', field: 'changes.home' }],
    })
    const boiling = { ...dryHome, dampest: { celsius: 100, rh: 0.4 } }
    expect((await call.commissionChange({ id, changes: { home: boiling } })).ok).toBe(false)
    expect((await ask.commission({ id })).home).toBeNull()
  })

  test('of a draft is there again, and a draft from before there was such a field loses nothing', async () => {
    const folder = aFolder()
    const first = await aDesk({ folder })
    await first.ask.draftSave({ draft: aDraft({ home: dry }) })
    expect((await first.ask.draftLoad())?.home).toEqual(dry)
    const { home: _, ...older } = aDraft({ notes: 'dark walnut' })
    await first.ask.draftSave({ draft: older as ReturnType<typeof aDraft> })
    expect(await first.ask.draftLoad()).toMatchObject({ notes: 'dark walnut', home: ALMANAC_HOME })
  })

  test('is in the backup and comes back with it', async () => {
    const { ask } = await aDesk()
    const { commissionId: id } = await ask.takeOrder(order(dry))
    const { file } = await ask.backupNow()
    await ask.commissionChange({ id, changes: { home: null } })
    await ask.openBackup({ file })
    expect((await ask.commission({ id })).home).toEqual(dryHome)
  })
})
