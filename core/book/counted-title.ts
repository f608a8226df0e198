import type { Piece } from './book.ts'

/** How an order's piece is named beside the others: "Serving tray", or "2 × Serving tray" where there are several. */
export const countedTitle = ({ title, count }: Pick<Piece, 'title' | 'count'>): string =>
  count === 1 ? title : `${count} × ${title}`
