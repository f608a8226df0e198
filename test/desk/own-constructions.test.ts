import { expect, test } from 'vitest'
import type { SpecInput } from '../../core/constructions/construction.ts'
import { startingOwnConstruction } from '../../core/constructions/own/own-form.ts'
import { aDesk, aDraft, aFolder, aPiece } from './support/a-desk.ts'

const block: SpecInput = { ...startingOwnConstruction('inch'), name: 'Knife block' }
const aBlock = (own: { readonly id: string } | undefined) => ({
  ...aPiece({ length: '14', width: '6', wood: 'maple', glue: 'pva_type2', finish: 'wiping_oil_varnish' }),
  construction: own?.id ?? '',
})

test('a construction of the maker’s own is kept, quoted, ordered and built like any other', async () => {
  const { ask } = await aDesk()
  await ask.almanacSave({ list: 'constructions', item: { id: '', input: block } })
  const [own] = (await ask.almanac()).almanac.constructions
  expect(own).toMatchObject({ id: 'own-knife-block', name: 'Knife block' })

  const draft = aDraft({ pieces: [aBlock(own)] })
  const answer = await ask.draftQuote({ draft, asked: 'dates' })
  expect(answer.problems).toEqual([])
  expect(answer.pieces[0]?.steps.map(({ name }) => name)).toEqual([
    'Mill and rip',
    'Glue-up',
    'Take off the clamps (Glue-up)',
    'Flatten and sand',
    'First coat',
    'Second coat',
    'Check that it’s ready',
  ])
  expect(answer.offers[0]?.doneAt).toBeGreaterThan(0)

  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-04-18' })
  const taken = await ask.commission({ id: commissionId })
  expect(taken.pieces[0]).toMatchObject({ constructionName: 'Knife block', input: { length: '14"', width: '6"' } })
  // ceil(6 / 2) strips of the form's formula.
  expect(taken.pieces[0]?.parts).toMatchObject([{ name: 'Strip', quantity: 3 }])
  expect((await ask.bench({ rows: 24 })).canStart[0]?.name).toBe('Mill and rip')
})

test('pieces that are ordered stay what they are when their construction is changed and taken out', async () => {
  const { ask } = await aDesk()
  await ask.almanacSave({ list: 'constructions', item: { id: '', input: block } })
  const [own] = (await ask.almanac()).almanac.constructions
  const draft = aDraft({ pieces: [aBlock(own)] })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-04-18' })
  const before = (await ask.commission({ id: commissionId })).pieces

  const parts = [{ name: 'Slab', wood: 'wood', quantity: '1', length: 'length', width: 'width', thickness: '2' }]
  await ask.almanacSave({ list: 'constructions', item: { id: own!.id, input: { ...block, parts } } })
  expect((await ask.commission({ id: commissionId })).pieces).toEqual(before)
  const changed = await ask.draftQuote({ draft, asked: 'dates' })
  expect(changed.pieces[0]?.parts).toMatchObject([{ name: 'Slab', quantity: 1 }])

  await ask.almanacRemove({ list: 'constructions', id: own!.id })
  expect((await ask.commission({ id: commissionId })).pieces).toEqual(before)
  const gone = await ask.draftQuote({ draft, asked: 'dates' })
  expect(gone.problems).toMatchObject([{ field: 'pieces.0.construction', message: 'Pick what you’re building.' }])
})

test('a construction that nobody could build is refused at the field, and the almanac stays as it was', async () => {
  const { ask, call } = await aDesk()
  const [first, ...rest] = block['steps'] as readonly Record<string, string | boolean>[]
  const refused = await call.almanacSave({
    list: 'constructions',
    item: { id: '', input: { ...block, steps: [{ ...first, minutes: '20 + widht' }, ...rest] } },
  })
  expect(refused).toMatchObject({ ok: false, problems: [{ field: 'steps.0.minutes' }] })
  expect(refused.ok ? '' : refused.problems[0]?.message).toContain('widht')
  expect((await ask.almanac()).almanac.constructions).toEqual([])
})

test('what is being written is kept as it is typed, each construction by itself', async () => {
  const folder = aFolder()
  const first = await aDesk({ folder })
  await first.ask.constructionDraftSave({ key: 'a', id: '', input: { ...block, name: 'Bread bo' } })
  await first.ask.constructionDraftSave({ key: 'b', id: 'own-x', input: { ...block, name: 'Other' } })
  await first.desk.close()
  const { ask } = await aDesk({ folder })
  const kept = await ask.constructionDrafts()
  expect(kept.map(({ key, id, input }) => [key, id, input['name']]).sort()).toEqual([
    ['a', '', 'Bread bo'],
    ['b', 'own-x', 'Other'],
  ])
  await ask.constructionDraftDrop({ key: 'a' })
  expect((await ask.constructionDrafts()).map(({ key }) => key)).toEqual(['b'])
})

test('an example is planned as if nothing else was on the bench', async () => {
  const { ask } = await aDesk()
  const [id, input] = ['', block]
  const alone = await ask.constructionTry({ id, input })
  expect(alone.problems).toEqual([])
  expect(alone.piece.steps.length).toBeGreaterThan(4)
  // Glue before the sander, a coat before the next and one before packing: by their clocks days, not hours.
  expect(alone.doneAt! - alone.startAt!).toBeGreaterThan(2 * 24 * 60)
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  expect((await ask.constructionTry({ id, input })).doneAt).toBe(alone.doneAt)
  const wrong = await ask.constructionTry({ id, input: { ...input, name: '' } })
  expect(wrong).toMatchObject({ doneAt: null, problems: [{ field: 'name' }] })
})
