import { expect, test } from 'vitest'
import type { OfferView } from '../../desk/orders/draft-answer.ts'
import { soonerOffers } from '../../renderer/new-order/sooner-offers.ts'

const offer = (takes: string, dayToSay: string, keepsPromises: boolean): OfferView => ({
  ...{ kind: 'with-more', takes, had: 'by-itself', doneAt: 0, odds: null, dayToSay, chance: null, safeDay: null },
  ...{ late: [], keepsPromises, lessSure: [], why: [] },
})

test('what costs nobody else comes first among sooner dates, then by day; what is no sooner is left out', () => {
  const offers = [
    offer('In turn', '2026-12-10', true),
    offer('Before everything else', '2026-12-07', false),
    offer('One more long day', '2026-12-07', true),
    offer('Warm room', '2026-12-08', true),
    offer('Two long days', '2026-12-05', true),
    offer('Four more clamps', '2026-12-10', true),
  ]
  expect(soonerOffers(offers).map(({ takes }) => takes)).toEqual([
    ...['Two long days', 'One more long day', 'Warm room', 'Before everything else'],
  ])
  expect(soonerOffers([])).toEqual([])
})
