import { type Ppm, shareOf } from './rate.ts'
import { upToStep } from './exact.ts'

/** A share of the total, up to the next whole step and never more than the total. */
export const depositOf = (totalMinor: number, share: Ppm, stepMinor = 1): number =>
  Math.min(totalMinor, upToStep(shareOf(totalMinor, share), stepMinor))

/** What had been spent on an order that is called off. */
export interface SpentOnOrder {
  /** Wood and parts that serve nothing else. */
  readonly boughtMinor: number
  readonly laborMinor: number
}

/** What may be kept of what was paid, as the shop's own terms say it, and what goes back. A proposal: local law and the terms decide. */
export function keptWhenCalledOff(
  paidMinor: number,
  { boughtMinor, laborMinor }: SpentOnOrder,
): { readonly keptMinor: number; readonly backMinor: number } {
  const keptMinor = Math.max(0, Math.min(paidMinor, boughtMinor + laborMinor))
  return { keptMinor, backMinor: paidMinor - keptMinor }
}

/**
 * What a seller in the US may keep of a deposit without terms about it: 20 % of the price or $500, whichever is smaller, besides
 * damages that he can prove. For information; states differ.
 * @source Uniform Commercial Code 2-718(2)(b)
 */
export const keptByUniformCode = (priceMinor: number, paidMinor: number): number =>
  Math.min(paidMinor, shareOf(priceMinor, 200_000), 50_000)
