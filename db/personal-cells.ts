import { ERASED_NAME, type LeavesOut } from './leave-out.ts'
import type { Cells } from './row-changes.ts'

/** Columns that tell of a customer and nothing else, with what stands in them once the person has been erased. */
export const PERSONAL: Readonly<Record<'customer' | 'commission', Cells>> = {
  customer: {
    name: ERASED_NAME,
    ...{ reach: '', second_reach: '', address: '', allergies: '', notes: '' },
    child_under_3: 'not-asked',
  },
  commission: { notes: '', needed_why: '', on_hold_why: '', closed_why: '', gift_for: '', gift_address: '' },
}

/** Columns in which somebody may have typed a name. All others hold numbers, days, links between rows and the program's own words. */
const TYPED_COLUMNS: Readonly<Record<string, readonly string[]>> = {
  customer: [],
  commission: ['deposit_how', 'untaxed_why', 'extra_lines'],
  piece: ['title', 'spec'],
  step: ['name', 'note'],
  lag: ['name', 'remedy_name'],
  money_entry: ['reference'],
}

/** The person whose rows these are. */
export interface Person {
  readonly customerIds: ReadonlySet<string>
  readonly commissionIds: ReadonlySet<string>
  readonly out: LeavesOut
}

/** One row without the person. It reads the same wherever it stands, in its table or in the log: what was done can still be undone. */
export function cellsWithout(person: Person, table: string, key: Cells, cells: Cells): Cells {
  const id = String(key['id'] ?? '')
  const isOwn =
    (table === 'customer' && person.customerIds.has(id)) || (table === 'commission' && person.commissionIds.has(id))
  const blank: Cells = isOwn ? PERSONAL[table as keyof typeof PERSONAL] : {}
  return Object.fromEntries(
    Object.entries(cells).map(([column, cell]) => {
      if (typeof cell !== 'string') return [column, cell]
      if (column in blank) return [column, blank[column] ?? '']
      if (table === 'draft' && column === 'content') return [column, draftWithout(person, cell)]
      return [column, TYPED_COLUMNS[table]?.includes(column) ? textWithout(person, cell) : cell]
    }),
  )
}

/** A text, or data that are kept as JSON text. */
export function textWithout({ out }: Person, text: string): string {
  if (!/^\s*[[{]/.test(text)) return out.text(text)
  const data = parsed(text)
  if (data === undefined) return out.text(text)
  const without = JSON.stringify(out.value(data))
  return without === JSON.stringify(data) ? text : without
}

/** An order as it was typed: its fields about the customer are emptied as well. */
function draftWithout(person: Person, content: string): string {
  const draft = parsed(content)
  return draft === undefined ? '{}' : JSON.stringify(person.out.value(emptied(draft)))
}

const TYPED: Readonly<Record<string, string>> = { notes: '', neededWhy: '', giftFor: '', giftAddress: '' }
const TYPED_CUSTOMER: Readonly<Record<string, string>> = {
  name: ERASED_NAME,
  ...{ reach: '', secondReach: '', address: '', allergies: '', notes: '', childUnder3: 'not-asked' },
}

function emptied(value: unknown, blank: Readonly<Record<string, string>> = TYPED): unknown {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return value
  return Object.fromEntries(
    Object.entries(value).map(([name, inside]) => [
      name,
      typeof inside === 'string' && name in blank
        ? blank[name]
        : emptied(inside, name === 'customer' ? TYPED_CUSTOMER : blank),
    ]),
  )
}

/** Undefined: no JSON. */
export function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown
  } catch {
    return undefined
  }
}
