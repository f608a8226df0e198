/**
 * An amount shared out by weight in whole minor units: the shares add up to the amount, and each is less than one unit off its exact
 * share. Units that are left over go to those who lost most by rounding down, the first of equals first.
 * @param amount whole, not negative
 * @param weights whole, not negative; where all are nothing, the first takes it all
 */
export function sharedOut(amount: number, weights: readonly bigint[]): readonly number[] {
  const whole = weights.reduce((sum, weight) => sum + weight, 0n)
  if (whole === 0n) return weights.map((_, index) => (index === 0 ? amount : 0))
  const exact = weights.map((weight) => BigInt(amount) * weight)
  const shares = exact.map((share) => Number(share / whole))
  const left = amount - shares.reduce((sum, share) => sum + share, 0)
  const lost = exact.map((share, index) => ({ index, rest: share % whole }))
  const most = lost.toSorted((a, b) => (a.rest === b.rest ? a.index - b.index : a.rest < b.rest ? 1 : -1))
  for (const { index } of most.slice(0, left)) shares[index] = (shares[index] ?? 0) + 1
  return shares
}
