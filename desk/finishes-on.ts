import type { BookLag, BookStep } from '../core/book/book.ts'
import { productsPutOn } from '../core/book/products-put-on.ts'
import type { Moment } from './moment.ts'

/** Names of the finishes that these steps put on, in their order. */
export function finishesOn(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  { almanac }: Pick<Moment, 'almanac'>,
): readonly string[] {
  const putsOn = productsPutOn(steps, lags)
  const products = new Set(steps.flatMap(({ id }) => putsOn.get(id) ?? []))
  return [...products].flatMap((id) => almanac.finishes.find((finish) => finish.id === id)?.name ?? [])
}
