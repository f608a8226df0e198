import { drafts, type SavedDraft } from '../../db/drafts.ts'
import type { Db } from '../../db/schema.ts'
import type { Draft } from './draft.ts'

/** One of the orders that are being typed. */
export interface OrderDraftLine {
  /** Tells the drafts apart; empty for the first. */
  readonly key: string
  readonly customer: string
  readonly pieces: number
  readonly savedAtMs: number
}

const FIRST = 'new-order'

/** The name under which an order that is being typed is kept until it is taken. */
export const draftName = (key: string): string => (key === '' ? FIRST : `${FIRST}/${key}`)

/** The key of the draft in which an order of the book is being changed. */
export const changeKey = (commissionId: string): string => `${CHANGE}${commissionId}`
const CHANGE = 'change-'

/** All orders that are being typed, the one typed in last first. */
export async function orderDrafts(db: Db, read: (content: unknown) => Draft | null): Promise<OrderDraftLine[]> {
  const stored = await drafts(db)
  return stored.flatMap((each) => {
    const key = keyOf(each)
    const draft = key === null ? null : read(each.content)
    return key === null || draft === null || key.startsWith(CHANGE)
      ? []
      : [{ key, customer: draft.customer.name.trim(), pieces: draft.pieces.length, savedAtMs: each.savedAtMs }]
  })
}

const keyOf = ({ id }: SavedDraft): string | null =>
  id === FIRST ? '' : id.startsWith(`${FIRST}/`) ? id.slice(FIRST.length + 1) : null
