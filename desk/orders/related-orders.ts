import type { Belonging, Commission } from '../../core/book/book.ts'
import { commissionById } from '../../db/commissions.ts'
import { ordersBelongingTo } from '../../db/order-lists.ts'
import type { Db } from '../../db/schema.ts'

/** An order that belongs to another one, or that others belong to. */
export interface RelatedOrder {
  readonly commissionId: string
  readonly number: number
  /** How they belong together, seen from the order that is shown. */
  readonly how: 'makes-again' | 'repairs' | 'answers-for' | 'made-again-as' | 'repaired-as' | 'complaint'
}

/** The earlier order that one belongs to, and the later ones that belong to it. */
export async function familyOf(db: Db, { id, belongsTo }: Commission): Promise<RelatedOrder[]> {
  const earlier = belongsTo === null ? null : await commissionById(db, belongsTo.commissionId)
  const later = await ordersBelongingTo(db, id)
  return [
    ...(earlier === null || belongsTo === null
      ? []
      : [{ commissionId: earlier.commission.id, number: earlier.commission.number, how: TO_EARLIER[belongsTo.as] }]),
    ...later.map((order) => ({ commissionId: order.id, number: order.number, how: TO_LATER[order.as] })),
  ]
}

const TO_EARLIER: Readonly<Record<Belonging['as'], RelatedOrder['how']>> = {
  again: 'makes-again',
  repair: 'repairs',
  complaint: 'answers-for',
}

const TO_LATER: Readonly<Record<Belonging['as'], RelatedOrder['how']>> = {
  again: 'made-again-as',
  repair: 'repaired-as',
  complaint: 'complaint',
}
