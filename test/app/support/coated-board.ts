import { constructionOf } from '../../../core/constructions/constructions.ts'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import type { PieceState } from '../../../core/book/piece-state.ts'
import { ALMANAC_HOME } from '../../../core/almanac/home.ts'
import type { OpenApp } from '../../support/app.ts'
import { valueOf, workOff } from './small-order.ts'

/** An agreed board whose first coat has just been put on. @param finish id of the almanac */
export const coatABoard = (app: OpenApp, finish: string): Promise<void> => workOffBoard(app, { finish }, 'drying')

/** An agreed board whose first glue-up has just gone into the clamps. @param glue id of the almanac */
export const glueABoard = (app: OpenApp, glue: string): Promise<void> => workOffBoard(app, { glue }, 'in-clamps')

async function workOffBoard(app: OpenApp, asked: SpecInput, until: PieceState): Promise<void> {
  const input = { ...constructionOf('edge-grain-board')?.starting('inch'), ...asked }
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
    if (valueOf(await app.desk.rack()).waiting.some(({ state }) => state === until)) return
    await workOff(app, 1)
  }
  throw new Error(`No piece was ever ${until}.`)
}
