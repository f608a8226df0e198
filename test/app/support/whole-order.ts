import type { OpenApp } from '../../support/app.ts'
import { screens } from '../../../renderer/screens.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './small-order.ts'

/** An order from being typed to its papers and its hand-over, and a look at every screen. */
export async function liveWholeOrder(app: OpenApp): Promise<void> {
  const { desk, page } = app
  const id = await takeSmallOrder(app, 'Odile Brandt', 'Wall shelf')
  for (const { address } of screens) {
    await goTo(app, address)
    await page.getByRole('main').waitFor()
  }
  await workOff(app, 6)
  await goTo(app, `#/commission/${id}`)
  await page.getByRole('heading', { name: /Odile Brandt/ }).waitFor()
  await goTo(app, `#/labels/${id}`)
  await page.getByRole('main').waitFor()
  valueOf(await desk.takeAlong({ what: 'everything' }))
  valueOf(await desk.backupNow())
  valueOf(await desk.commissionHandOver({ id }))
  await goTo(app, '#/customers')
  await page.getByRole('heading', { name: 'Odile Brandt' }).waitFor()
}
