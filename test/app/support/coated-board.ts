import { constructionOf } from '../../../core/constructions/constructions.ts'
import { ALMANAC_HOME } from '../../../core/almanac/home.ts'
import type { OpenApp } from '../../support/app.ts'
import { valueOf, workOff } from './small-order.ts'

/** An agreed board whose first coat has just been put on. @param finish id of the almanac */
export async function coatABoard(app: OpenApp, finish: string): Promise<void> {
  const input = { ...constructionOf('edge-grain-board')?.starting('inch'), finish }
  const customer = { name: 'Ada Quist', reach: '555-0100', secondReach: '', address: '', allergies: '' } as const
  const taken = await app.desk.takeOrder({
    draft: {
      ...{ customer: { ...customer, childUnder3: 'not-asked' }, takenWhere: 'fair' },
      pieces: [{ construction: 'edge-grain-board', count: '1', input }],
      ...{ neededBy: '', neededWhy: '', notes: '', home: ALMANAC_HOME, price: '', deposit: '', depositHow: '' },
    },
    ...{ standing: 'agreed', promisedFor: null },
  })
  valueOf(taken)
  for (let step = 0; step < 30; step += 1) {
    if (valueOf(await app.desk.rack()).waiting.some(({ state }) => state === 'drying')) return
    await workOff(app, 1)
  }
  throw new Error('No coat was reached.')
}
