import type { BookLag, BookStep, Customer } from '../../../core/book/book.ts'
import { LUMBER_AS_COUNTED } from '../../../core/book/lumber.ts'
import type { NewOrder } from '../../../db/commissions.ts'

/** An invented customer; any field may be given. */
export const aCustomer = (given: Partial<Customer> = {}): Customer => ({
  id: 'customer-1',
  name: 'Odile Marsh',
  reach: '555 0100',
  secondReach: 'odile@example.org',
  address: '',
  allergies: 'none',
  childUnder3: 'no',
  notes: '',
  ...given,
})

/**
 * An order of one end-grain board as it comes from the desk: two glue-ups with everything a step, a hold and a lag can hold.
 * Ids begin with `name`, so that several may be in one book.
 */
export function anOrder(name = 'order-1', given: Partial<NewOrder['commission']> = {}): NewOrder {
  const pieceId = `${name}-piece`
  const commission: NewOrder['commission'] = {
    id: name,
    customer: aCustomer({ id: `${name}-customer` }),
    takenAtMin: 29_400_000,
    takenWhere: 'fair',
    standing: 'agreed',
    onHoldUntil: null,
    onHoldWhy: '',
    neededBy: '2026-12-20',
    neededWhy: 'a wedding',
    promisedFor: '2026-12-18',
    weight: 1,
    notes: 'Walnut darker than the sample, "as dark as it gets"',
    home: null,
    priceMinor: 32_000,
    depositMinor: 16_000,
    untaxedWhy: '',
    extraLines: [],
    lumber: LUMBER_AS_COUNTED,
    ...{
      remindOn: null,
      toldOn: null,
      closedFrom: null,
      closedWhy: '',
      keptMinor: null,
      belongsTo: null,
      giftFor: '',
      giftAddress: '',
    },
    ...given,
  }
  const step = stepOf(commission.id, pieceId)
  const steps = [
    step(0, 'first-glue-up', {
      spreadMin: 8,
      interruptible: false,
      holds: [
        { station: 'clamps', units: 4, until: { kind: 'start-of', step: 'release' } },
        { station: 'glue-up-bench', units: 1, until: { kind: 'end' } },
      ],
    }),
    step(1, 'release', { minutes: 3, optimisticMin: 2, pessimisticMin: 8 }),
    step(2, 'flatten', { dusty: true, setUp: { family: 'drum-sander', minutes: 10 }, cautions: ['dust', 'hearing'] }),
    step(3, 'coat', {
      interruptible: false,
      tackyMin: 240,
      tackyProduct: 'wiping_oil_varnish',
      cautions: ['rag_fire'],
      holds: [{ station: 'rack', units: 1, until: { kind: 'after', minutes: 1440 } }],
    }),
  ]
  return {
    commission,
    pieces: [
      {
        id: pieceId,
        commissionId: commission.id,
        position: 0,
        construction: 'end-grain-board',
        title: 'End-grain board 18" x 18"',
        count: 1,
        spec: { cellsAcross: 8, cellNm: 57_150_000, woods: ['walnut', 'maple'] },
      },
    ],
    steps,
    lags: [
      lag(steps, 0, 1, { wait: 'in-clamps', name: 'glue in clamps', minMin: 240, product: 'pva_type2' }),
      lag(steps, 1, 2, { wait: 'curing', name: 'glue curing', minMin: 1440, product: 'pva_type2' }),
      lag(steps, 2, 3, {
        minMin: 0,
        maxMin: 2880,
        remedy: { name: 'Sand again', minutes: 15 },
        name: 'sanded surface',
      }),
    ],
  }
}

const stepOf =
  (commissionId: string, pieceId: string) =>
  (position: number, key: string, given: Partial<BookStep> = {}): BookStep => ({
    id: `${pieceId}-${key}`,
    pieceId,
    commissionId,
    position,
    lot: 1,
    lots: 1,
    lotCount: 1,
    key,
    operation: key,
    name: key,
    note: '',
    minutes: 30,
    optimisticMin: 20,
    pessimisticMin: 60,
    units: { count: 3, eachMin: 12.5 },
    hands: 1,
    interruptible: true,
    smallestStretchMin: 15,
    holds: [],
    dusty: false,
    tackyMin: 0,
    tackyProduct: null,
    setUp: null,
    cautions: [],
    ...given,
  })

function lag(steps: readonly BookStep[], from: number, to: number, given: Partial<BookLag>): BookLag {
  const [a, b] = [steps[from], steps[to]]
  if (a === undefined || b === undefined) throw new Error('no such step')
  const minMin = given.minMin ?? 0
  return {
    pieceId: a.pieceId,
    fromStep: a.id,
    toStep: b.id,
    from: a.key,
    to: b.key,
    wait: 'none',
    name: '',
    minMin,
    optimisticMin: minMin,
    pessimisticMin: minMin * 2,
    maxMin: null,
    remedy: null,
    product: null,
    source: 'common practice, no source',
    ...given,
  }
}
