import { STARTING_MONEY } from '../../core/almanac/money-facts.ts'
import type { AlmanacView } from '../almanac/procedures.ts'
import type { Moved } from '../moved.ts'
import type { CommissionView } from '../screens/commission.ts'

/**
 * Money stays at the desk: of what a device asked for, neither prices nor what was paid nor rates are sent, as its pages show none. Only
 * who may take orders is told the price of the order that is being typed, by the answers to that.
 */
export function withoutMoney(name: string, value: unknown): unknown {
  switch (name) {
    case 'almanac':
      return almanacWithout(value as AlmanacView)
    case 'commission':
      return commissionWithout(value as CommissionView)
    case 'stepFailed':
      return { ...(value as Moved), sums: undefined }
    default:
      return value
  }
}

/** The single figures are for the Almanac's own page, which no device has. */
const almanacWithout = ({ almanac }: AlmanacView): AlmanacView => ({
  almanac: { ...almanac, money: STARTING_MONEY, woodPrices: {} },
  facts: [],
})

const MONEY_OF_ORDER: ReadonlySet<string> = new Set<keyof CommissionView>([
  'money',
  'price',
  'priceMinor',
  'untaxedWhy',
  'extraLines',
  'wood',
  'woodPaidMinor',
  'woodUncutMinor',
])

const commissionWithout = (view: CommissionView): Partial<CommissionView> => ({
  ...Object.fromEntries(Object.entries(view).filter(([field]) => !MONEY_OF_ORDER.has(field))),
  history: view.history.map((line) => ({ ...line, sums: '' })),
})
