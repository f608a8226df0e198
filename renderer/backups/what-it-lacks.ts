import type { Reply } from '../../desk/procedure.ts'
import type { CopyLacks } from '../../desk/safekeeping.ts'

const NAMED = 5

export const CHECKING = 'Checking what this copy lacks...'

/** What is missing in a copy, or why that cannot be told. */
export const lacksInWords = (lacks: Reply<CopyLacks>): string =>
  lacks.ok
    ? whatItLacks(lacks.value)
    : `What it lacks cannot be told: ${lacks.problems.map(({ message }) => message).join(' ')}`

/** What is missing once an older copy is open, as a sentence: "Only in your present order book: no. 14 (Ada Quist) and 12 more entries." */
export function whatItLacks({ orders, entries }: CopyLacks): string {
  if (entries === 0) return 'It holds all that your present order book holds.'
  const named = orders.slice(-NAMED).map(({ number, customer }) => `no. ${number} (${customer})`)
  const more = orders.length - named.length
  const parts = [
    ...named,
    ...(more > 0 ? [`${more} more ${more === 1 ? 'order' : 'orders'}`] : []),
    `${entries} ${entries === 1 ? 'entry' : 'entries'} in the log`,
  ]
  return `Only in your present order book: ${parts.slice(0, -1).join(', ')}${parts.length > 1 ? ' and ' : ''}${parts.at(-1)}.`
}
