import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { expect } from 'vitest'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder } from './support/small-order.ts'

test('of many customers fifty are listed, the next on a press, and of those due to be erased five, all on a press', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, dataFolder } = app
  await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
  const file = new SqliteFile(join(dataFolder, 'shop.sqlite'))
  const numbers = Array.from({ length: 54 }, (_, at) => at + 10)
  const columns = file.prepare(`select name from pragma_table_info('customer')`).pluck().all() as string[]
  const kept = columns.filter((column) => !['id', 'name', 'reach'].includes(column)).join(', ')
  for (const number of numbers) {
    file.exec(`insert into customer (id, name, reach, ${kept})
      select 'c${number}', 'Customer ${number}', '555-02${number}', ${kept} from customer where name = 'Ada Quist'`)
  }
  // Erased once and back with an older copy.
  file.exec(`insert into erasure (customer_id, asked_at_ms, done_at_ms)
    select id, 1, null from customer where id in ('c10', 'c11', 'c12', 'c13', 'c14', 'c15', 'c16')`)
  file.close()

  await goTo(app, '#/customers')
  const listed = page.getByRole('button', { name: /^New order for / })
  const due = page.getByRole('button', { name: /, who is due$/ })
  await expect.poll(() => listed.count()).toBe(50)
  await expect.poll(() => due.count()).toBe(5)
  await page.getByRole('button', { name: 'Show 5 more of 55' }).press('Enter')
  await expect.poll(() => listed.count()).toBe(55)
  await expect.poll(() => page.getByRole('button', { name: /^Show 5 more/ }).count()).toBe(0)
  await page.getByRole('button', { name: 'Show all 7' }).press('Enter')
  await expect.poll(() => due.count()).toBe(7)
})
