import { expect } from 'vitest'
import { goTo, takeSmallOrder, valueOf } from '../app/support/small-order.ts'
import { test } from '../support/app.ts'

test('a paper that is copied as text in the window can be pasted into a mail', async ({ openWindow }) => {
  const app = await openWindow({ tray: 'never' })
  const id = await takeSmallOrder(app)
  valueOf(await app.desk.commissionChange({ id, changes: { priceMinor: 37_525 } }))
  const form = { kind: 'confirmation' as const, text: '', newDay: '', amends: '', credit: '' }
  valueOf(await app.desk.paperIssue({ id, form }))
  await goTo(app, `#/commission/${id}`)
  await app.page.getByRole('link', { name: 'Order confirmation no. 1' }).click()
  await app.page.getByRole('button', { name: 'Copy as text' }).click()
  await app.page.getByText('Copied.', { exact: true }).waitFor()
  expect(await app.electron.evaluate(({ clipboard }) => clipboard.readText())).toContain('Order confirmation')
})
