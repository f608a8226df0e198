/**
 * A quotient as a whole number, exact halves away from zero: how a price line or a tax is rounded, once.
 * @param below not zero
 * @throws RangeError where the result is too large to be an exact number
 */
export function rounded(above: bigint, below: bigint): number {
  const negative = above < 0n !== below < 0n
  const [a, b] = [above < 0n ? -above : above, below < 0n ? -below : below]
  const size = Number((2n * a + b) / (2n * b))
  if (!Number.isSafeInteger(size)) throw new RangeError(`${size} is more than can be reckoned with exactly`)
  return negative && size !== 0 ? -size : size
}

/** The least whole multiple of `step` that is not below the amount; the amount itself where the step is 0. */
export const upToStep = (minor: number, step: number): number => (step <= 0 ? minor : Math.ceil(minor / step) * step)

/** All amounts together; nothing for none. */
export const sum = (amounts: readonly number[]): number => amounts.reduce((all, each) => all + each, 0)
