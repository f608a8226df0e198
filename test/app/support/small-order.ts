import { ALMANAC_HOME } from '../../../core/almanac/home.ts'
import type { OpenApp } from '../../support/app.ts'
import type { Draft } from '../../../desk/orders/draft.ts'

/** Value of a reply that must succeed. */
export function valueOf<T>(
  reply: { ok: true; value: T } | { ok: false; problems: readonly { readonly message: string }[] },
): T {
  if (!reply.ok) throw new Error(reply.problems.map((problem) => problem.message).join('\n'))
  return reply.value
}

/** An agreed order for one shelf or several, of few steps with waits of whole hours, so that a test can tell what comes when. */
export async function takeSmallOrder(
  app: OpenApp,
  customer = 'Ada Quist',
  title = 'Wall shelf',
  count = '1',
): Promise<string> {
  const draft = smallDraft(customer, title, count)
  return valueOf(await app.desk.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-05-30' })).commissionId
}

/** The order as it is typed. */
export function smallDraft(customer = 'Ada Quist', title = 'Wall shelf', count = '1'): Draft {
  const row = (name: string, minutes: string, kind: string, wait = '') => ({
    ...{ name, minutes, kind, wait, atMost: '', after: '', dusty: false, units: kind === 'glue-up' ? '4' : '' },
  })
  return {
    customer: {
      name: customer,
      reach: '555-0100',
      secondReach: '',
      address: '',
      allergies: '',
      childUnder3: 'not-asked',
    },
    takenWhere: 'fair',
    pieces: [
      {
        construction: 'free-list',
        count,
        input: {
          title,
          rows: [
            row('Cut the boards', '30 min', 'machine'),
            row('Glue the shelf', '20 min', 'glue-up', '4 h'),
            row('First coat', '15 min', 'coat', '12 h'),
            row('Second coat', '15 min', 'coat', '24 h'),
            row('Pack it', '10 min', 'hand'),
          ],
        },
      },
    ],
    neededBy: '',
    neededWhy: '',
    notes: '',
    home: ALMANAC_HOME,
    price: '',
    deposit: '',
    depositHow: '',
  }
}

/** The draft that was typed in last; null: there is none. */
export async function newestDraft({ drafts, draftLoad }: OpenApp['desk']): Promise<Draft | null> {
  const [newest] = valueOf(await drafts())
  return newest === undefined ? null : valueOf(await draftLoad({ key: newest.key }))
}

/**
 * Moves the clock on; the page is told by the desk, or loaded anew where it counts by itself. From the beginning of this minute, so that
 * there is a whole one for what a test does next: the clock runs on meanwhile, and what is counted in minutes may be counted twice.
 */
export async function passMinutes(app: OpenApp, minutes: number): Promise<void> {
  const { nowMs } = valueOf(await app.desk.shopState())
  const nowMin = Math.floor(nowMs / 60_000)
  valueOf(await app.desk.testSetClock({ now: new Date((nowMin + minutes) * 60_000).toISOString() }))
}

/** Works off so many steps of the first commission, each as long as it is allowed to take. */
export async function workOff(app: OpenApp, steps: number): Promise<void> {
  for (let done = 0; done < steps; done += 1) {
    const { canStart, comingUp } = valueOf(await app.desk.bench({ rows: 24 }))
    const next = canStart[0] ?? comingUp[0]
    if (next === undefined) throw new Error('There is nothing left to work on.')
    valueOf(await app.desk.stepStart({ stepId: next.stepId, anyway: true }))
    await passMinutes(app, next.handsOnMinutes)
    valueOf(await app.desk.stepDone({ stepId: next.stepId }))
  }
}

/** Opens a screen by its address, as a press in the rail does. */
export async function goTo({ page }: OpenApp, address: string): Promise<void> {
  await page.goto(page.url().replace(/#.*|$/, address))
  await page.reload()
}
