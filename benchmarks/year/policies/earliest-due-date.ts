import type { Listed } from '../executor/evening.ts'
import type { ShopView } from '../lived.ts'

/** Works on what is promised first, each order in the order of its steps: the rule of Jackson (1955). */
export const byEarliestDueDate = ({ open, isDone }: Pick<ShopView, 'open' | 'isDone'>): readonly Listed[] =>
  [...open]
    .sort((a, b) => a.promised.dueAt - b.promised.dueAt || a.order.askedAt - b.order.askedAt)
    .flatMap(({ order }) =>
      order.book.steps
        .filter(({ id }) => !isDone(id))
        .map(({ id, minutes }): Listed => ({ step: id, expectedMin: minutes, notBefore: 0 })),
    )
