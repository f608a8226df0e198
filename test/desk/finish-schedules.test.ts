import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

const MINE = {
  ...{ id: '', name: 'Sealed and sprayed', rubOut: '0000 pad', wax: '' },
  layers: [
    { finish: 'shellac', coats: '1', method: 'brush', sandGrit: '' },
    { finish: 'water_polyurethane', coats: '2', method: 'spray', sandGrit: '400' },
  ],
}

test('a schedule of the maker’s own is ordered like a finish, planned coat by coat, and stays while an order asks for it', async () => {
  const one = await aDesk()
  const { ask, call } = one
  await ask.almanacSave({ list: 'finishSchedules', item: MINE })
  const draft = aDraft({ pieces: [aPiece({ finish: 'sealed-and-sprayed' }, 'edge-grain-board')] })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  const view = await ask.commission({ id: commissionId })
  const names = view.pieces.flatMap(({ steps }) => steps.map(({ name }) => name))
  expect(names.slice(-7)).toEqual([
    ...['First coat', 'Sand before the second coat', 'Second coat', 'Sand before the third coat', 'Third coat'],
    ...['Rub out the finish', 'Inspect and pack'],
  ])
  expect(view.doneAt).not.toBeNull()

  expect(await call.almanacRemove({ list: 'finishSchedules', id: 'sealed-and-sprayed' })).toMatchObject({ ok: false })
  expect(await call.almanacRemove({ list: 'finishes', id: 'shellac' })).toMatchObject({
    ok: false,
    problems: [{ code: 'in-use' }],
  })
  await ask.commissionCallOff({ id: commissionId })
  expect(await call.almanacRemove({ list: 'finishSchedules', id: 'sealed-and-sprayed' })).toMatchObject({ ok: true })
})
