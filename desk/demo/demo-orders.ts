import type { SpecInput } from '../../core/constructions/construction.ts'
import type { Draft } from '../orders/draft.ts'

/** Invented people and what they want; day of the order and promise relative to the demo's evening. */
export interface DemoOrder {
  readonly daysAgo: number
  readonly promisedIn: number | null
  readonly who: string
  readonly reach: string
  readonly secondReach: string
  readonly where: Draft['takenWhere']
  readonly pieces: readonly DemoPiece[]
  readonly neededWhy?: string
  readonly notes?: string
  readonly price: string
  readonly deposit: string
  /** Where its wood is; absent: it was in the shop. Days relative to the demo's evening. */
  readonly lumber?: { readonly cameDaysAgo: number } | 'to-buy'
}

interface DemoPiece {
  readonly construction: string
  readonly count: number
  readonly changes: SpecInput
}

const board = (changes: SpecInput = {}, count = 1): DemoPiece => ({ construction: 'end-grain-board', count, changes })
const slab = (changes: SpecInput = {}, count = 1): DemoPiece => ({ construction: 'edge-grain-board', count, changes })
const gameBoard = {
  cell: '1 1/2',
  cellsAcross: '10',
  cellsAlong: '10',
  framed: true,
  frameFace: '2',
  frameWood: 'cherry',
}
const person = (who: string, reach: string, secondReach: string, where: Draft['takenWhere']) => ({
  who,
  reach,
  secondReach,
  where,
})

export const demoOrders: readonly DemoOrder[] = [
  {
    ...person('Ines Okafor', '555-0134', 'ines@example.org', 'phone'),
    ...{ daysAgo: 24, promisedIn: 2, price: '420', deposit: '210', neededWhy: 'Draughts table of the reading room' },
    pieces: [board({ ...gameBoard, finish: 'wiping_oil_varnish' })],
  },
  {
    ...person('Tom Varga', '555-0178', 'tom.varga@example.org', 'phone'),
    ...{ daysAgo: 20, promisedIn: 9, price: '285', deposit: '140' },
    pieces: [slab({}, 3)],
  },
  {
    ...person('Priya Lindqvist', 'priya@example.org', '555-0101', 'mail'),
    ...{ daysAgo: 13, promisedIn: 9, price: '380', deposit: '190', neededWhy: 'Wedding present' },
    notes: 'Initials P & J burned into one foot, checked letter by letter.',
    pieces: [board({ feet: true, fingerGrips: true }, 2)],
  },
  {
    ...person('Marcus Bell', '555-0122', 'the bakery, at the counter', 'in-person'),
    ...{ daysAgo: 12, promisedIn: 16, price: '340', deposit: '170' },
    pieces: [
      slab({ length: '24', width: '14', thickness: '1 1/2', finish: 'hardwax_oil' }),
      board({ pattern: 'stripes', woodA: 'cherry', woodB: 'maple' }),
    ],
  },
  {
    ...person('Hana Doyle', '555-0190', 'hana@example.org', 'fair'),
    ...{ daysAgo: 11, promisedIn: 16, price: '190', deposit: '95', neededWhy: 'House-warming' },
    pieces: [slab({ woodA: 'ash', food: false, finish: 'water_polyurethane', length: '20', width: '12' })],
  },
  {
    ...person('Luis Petrov', '555-0143', 'luis@example.org', 'fair'),
    ...{ daysAgo: 10, promisedIn: 23, price: '360', deposit: '180', neededWhy: 'Gifts for the crew' },
    pieces: [slab({ stripes: 'two' }, 4)],
  },
  {
    ...person('Noor Haddad', 'noor@example.org', '555-0117', 'mail'),
    ...{ daysAgo: 8, promisedIn: 33, price: '840', deposit: '420' },
    pieces: [board({ ...gameBoard, frameWood: 'ash', finish: 'hardwax_oil' }, 2)],
  },
  {
    ...person('Bea Castellan', '555-0159', 'bea@example.org', 'phone'),
    ...{ daysAgo: 7, promisedIn: 30, price: '95', deposit: '45' },
    pieces: [
      {
        construction: 'free-list',
        count: 1,
        changes: {
          title: 'Repair of a step stool',
          rows: [
            demoRow('Take apart and clean the joints', '50 min', 'hand', ''),
            demoRow('Glue and clamp', '30 min', 'glue-up', '24 h', '4'),
            demoRow('Scrape and sand', '40 min', 'hand', '', '', true),
            demoRow('Coat', '15 min', 'coat', '24 h'),
            demoRow('Inspect', '10 min', 'hand', ''),
          ],
        },
      },
    ],
  },
  {
    ...person('Stellan Ruiz', '555-0185', 'stellan@example.org', 'in-person'),
    ...{ daysAgo: 5, promisedIn: 33, price: '520', deposit: '260', neededWhy: 'Anniversary' },
    lumber: { cameDaysAgo: 2 },
    pieces: [slab({ length: '36', width: '18', thickness: '1 3/4', woodA: 'walnut', finish: 'hardwax_oil' }), board()],
  },
  {
    ...person('Mo Abernathy', '555-0172', 'mo@example.org', 'fair'),
    ...{ daysAgo: 5, promisedIn: 49, price: '300', deposit: '150' },
    lumber: 'to-buy',
    pieces: [board({ pattern: 'stripes' }, 3)],
  },
  {
    ...person('Greta Amsel', '555-0166', 'greta@example.org', 'phone'),
    ...{ daysAgo: 2, promisedIn: null, price: '', deposit: '' },
    pieces: [board({ framed: true, frameWood: 'walnut' })],
  },
]

function demoRow(
  name: string,
  minutes: string,
  kind: string,
  wait: string,
  units = '',
  dusty = false,
): Readonly<Record<string, string | boolean>> {
  return { name, minutes, kind, wait, atMost: '', after: '', dusty, units }
}
