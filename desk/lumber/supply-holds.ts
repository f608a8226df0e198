import type { BookLag, BookStep } from '../../core/book/book.ts'
import { productsPutOn } from '../../core/book/products-put-on.ts'
import type { SupplyHold } from '../../core/book/planning-setting.ts'
import type { Supply } from '../../core/book/supplies.ts'
import { localDay, startOfLocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'

/** Hardware goes on in these steps, each named by what it fits. */
const FITTED: readonly (readonly [operation: string, named: RegExp])[] = [
  ['fit-feet', /\bfeet\b|\bfoot\b/i],
  ['fit-hinges', /\bhinges?\b/i],
  ['fit-top', /\bbuttons?\b|\bfigure|\bfasteners?\b/i],
]

/** What each step waits for because there is none of it: the glue or finish that it puts on, the hardware that it fits. */
export function supplyHolds(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  supplies: readonly Supply[],
  { now, timeZone, locale }: { readonly now: number; readonly timeZone: string; readonly locale: string },
): (step: BookStep) => SupplyHold | null {
  const out = supplies.filter(({ outSince }) => outSince !== null)
  if (out.length === 0) return () => null
  const putsOn = productsPutOn(steps, lags)
  const today = localDay(now, timeZone)
  const holdOf = ({ name, expectedOn }: Supply): SupplyHold => {
    if (expectedOn === null) return { until: null, why: `Out of ${name}: no day set yet` }
    const day = expectedOn < today ? today : expectedOn
    return {
      until: startOfLocalDay(day, timeZone),
      why: `Out of ${name}: expected ${day === today ? 'today' : writeLocalDay(day, locale)}`,
    }
  }
  return (step) => {
    const product = putsOn.get(step.id)
    const named = FITTED.find(([operation]) => operation === step.operation)?.[1]
    const missing = out.find(
      ({ productId, name }) =>
        (productId !== null && productId === product) || (productId === null && named?.test(name)),
    )
    return missing === undefined ? null : holdOf(missing)
  }
}

/** The one that holds for longer; nobody knowing when is longest. */
export const laterHold = (one: SupplyHold | null, other: SupplyHold | null): SupplyHold | null => {
  if (one === null || other === null) return one ?? other
  return (one.until ?? Infinity) >= (other.until ?? Infinity) ? one : other
}
