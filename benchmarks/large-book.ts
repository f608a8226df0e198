import { join } from 'node:path'
import { startingAlmanac } from '../core/almanac/defaults.ts'
import { ALMANAC_HOME } from '../core/almanac/home.ts'
import { constructionOf } from '../core/constructions/constructions.ts'
import { addCommission } from '../db/commissions.ts'
import { openShopFile } from '../db/connection.ts'
import { orderOf, readDraft } from '../desk/orders/draft-work.ts'
import type { Draft } from '../desk/orders/draft.ts'

export const place = { timeZone: 'America/Chicago', units: 'inch', currency: 'USD' } as const

/** Fills a new data file with so many agreed commissions of framed end-grain boards, 23 steps each; three in four have a promise. */
export async function fillBook(dataFolder: string, orders: number, nowMs: number): Promise<void> {
  const file = await openShopFile(join(dataFolder, 'shop.sqlite'), { clockMs: () => nowMs })
  if (!file.ok) throw new Error(JSON.stringify(file.problems))
  const almanac = startingAlmanac(place)
  let ids = 0
  for (let number = 0; number < orders; number++) {
    const draft = draftOf(number)
    const promisedFor =
      number % 4 === 0 ? null : new Date(nowMs + (20 + number * 5) * 86_400_000).toISOString().slice(0, 10)
    const decided = { standing: 'agreed', promisedFor, takenAtMin: nowMs / 60_000 } as const
    const order = orderOf(draft, readDraft(draft, almanac, nowMs / 60_000), decided, () => `id-${++ids}`)
    await addCommission(file.value.db, order, { atMs: nowMs, makerId: null })
  }
  await file.value.close()
}

/** The order for such a board, by the customer of that number. */
export function draftOf(number: number): Draft {
  const framed = {
    framed: true,
    cell: '1 3/4',
    cellsAcross: '8',
    cellsAlong: '8',
    frameFace: '2 1/2',
    frameWood: 'cherry',
  }
  const input = { ...constructionOf('end-grain-board')?.starting('inch'), ...framed, finish: 'wiping_oil_varnish' }
  return {
    customer: {
      name: `Customer ${number}`,
      reach: '555-0100',
      secondReach: '',
      address: '',
      allergies: '',
      childUnder3: 'not-asked',
    },
    takenWhere: 'fair',
    pieces: [{ construction: 'end-grain-board', input, count: '1' }],
    neededBy: '',
    neededWhy: '',
    notes: '',
    home: ALMANAC_HOME,
    price: '',
    deposit: '',
    depositHow: '',
  }
}
