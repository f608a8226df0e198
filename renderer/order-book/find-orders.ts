import type { OrderRow } from '../../desk/views.ts'
import { commissionWords } from '../widgets/commission-words.ts'

/**
 * The rows in which every typed word is found: in the customer's name, the number, a title, the next step or the standing.
 * Capitals and accents don't matter; nothing typed finds all.
 */
export function findOrders(rows: readonly OrderRow[], sought: string): readonly OrderRow[] {
  const words = plain(sought).split(/\s+/).filter(Boolean)
  if (words.length === 0) return rows
  return rows.filter((row) => {
    const text = plain(
      [row.customer, `no. ${row.number}`, ...row.titles, row.nextStep ?? '', commissionWords[row.standing]].join(' '),
    )
    return words.every((word) => text.includes(word))
  })
}

const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase()
