import type { CommissionWord } from '../../desk/orders/commission-word.ts'

/** How a commission stands, as makers say it. */
export const commissionWords: Readonly<Record<CommissionWord, string>> = {
  'asked-about': 'inquiry',
  agreed: 'agreed',
  'in-the-shop': 'in the shop',
  'ready-to-collect': 'ready for pickup',
  'handed-over': 'handed over',
  'on-hold': 'on hold',
  'called-off': 'canceled',
  lost: 'lost',
}
