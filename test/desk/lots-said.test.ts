import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

test('why a piece is made in lots is said once, as no warning, and no more once the order is closed', async () => {
  const { ask } = await aDesk()
  const draft = aDraft({ pieces: [aPiece({}, 'end-grain-board', '8')] })
  const quoted = (await ask.draftQuote({ draft, asked: 'dates' })).pieces[0]!
  expect(quoted.lots).toMatch(/^Made in \d lots of [\d, and]+: .* of all 8 needs \d+ clamps, you have \d+\.$/)
  expect(quoted.warnings).not.toContain(quoted.lots)
  const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-30' })
  const piece = async () => (await ask.commission({ id })).pieces[0]!
  expect((await piece()).whyLots).toMatch(/^Made in \d lots/)
  expect((await piece()).warnings.join()).not.toContain('lots')
  await ask.commissionCallOff({ id })
  expect((await piece()).whyLots).toBeNull()
})
