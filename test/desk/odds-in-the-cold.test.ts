import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

const DAY = 24 * 60

/**
 * In a shop that is heated only while somebody works the air allows a coat some time after the shop has opened; the odds take that up
 * when it comes, as the plan does: what parts them is luck alone, missed evenings and longer work.
 */
test.for([
  ['mineral_oil_wax', 'edge-grain-board'],
  ['water_polyurethane', 'edge-grain-board'],
  ['wiping_oil_varnish', 'edge-grain-board'],
  ['mineral_oil_wax', 'framed-field'],
  ['wiping_oil_varnish', 'framed-field'],
] as const)(
  'in January in a shop heated only for work, %s on %s is as likely as not done within days of the plan',
  async ([finish, form]) => {
    const { ask } = await aDesk({ at: '2026-01-14T15:00:00Z' })
    await ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
    const draft = aDraft({ pieces: [aPiece({ finish }, form)] })
    const [offer] = (await ask.draftQuote({ draft, asked: 'odds' })).offers
    expect(offer!.odds!.p50At - offer!.doneAt).toBeLessThan(7 * DAY)
  },
)
