import type { Commission } from './book.ts'

/**
 * Who gets the pieces of an order: the customer, or the one it is a gift for. A gift without an address of its own goes to the customer's.
 */
export function recipientOf({
  customer,
  giftFor,
  giftAddress,
}: Pick<Commission, 'giftFor' | 'giftAddress'> & {
  readonly customer: { readonly name: string; readonly address: string }
}): { readonly name: string; readonly address: string; readonly isGift: boolean } {
  const isGift = giftFor.trim() !== '' || giftAddress.trim() !== ''
  return {
    name: giftFor.trim() === '' ? customer.name : giftFor.trim(),
    address: giftAddress.trim() === '' ? customer.address : giftAddress.trim(),
    isGift,
  }
}
