import type { BookLag, BookStep } from './book.ts'

/** The glue or finish that each step puts on: a coat's own, a glue-up's by what sets after it. */
export function productsPutOn(
  steps: readonly Pick<BookStep, 'id' | 'tackyProduct'>[],
  lags: readonly Pick<BookLag, 'fromStep' | 'wait' | 'product'>[],
): ReadonlyMap<string, string> {
  const products = new Map<string, string>()
  for (const { fromStep, wait, product } of lags)
    if (product !== null && wait !== 'none') products.set(fromStep, product)
  for (const { id, tackyProduct } of steps) if (tackyProduct !== null) products.set(id, tackyProduct)
  return products
}
