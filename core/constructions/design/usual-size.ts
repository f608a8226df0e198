import { inches, millimetres } from '../../lengths/length.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** A size that the trade has in round figures of either scale: a quarter inch here is 6 mm there. */
export const usualSize = ({ units }: Pick<ShopFacts, 'units'>, inch: number, millimetre: number): number =>
  units === 'inch' ? inches(inch) : millimetres(millimetre)
