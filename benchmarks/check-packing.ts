import type { Verdict } from './check-answer.ts'

/** Checks a packing against the instance text alone; shares no code with the packer. The value is the number of bins used. */
export function checkPacking(text: string, bins: readonly number[]): Verdict {
  const numbers = text.match(/\d+/g)?.map(Number) ?? []
  const [count, capacity] = numbers
  if (bins.length !== count) return { fine: false, fault: `${count} items were expected, there are ${bins.length}` }
  const loads = new Map<number, number>()
  for (let item = 0; item < bins.length; item++) {
    const bin = bins[item]!
    if (!Number.isInteger(bin) || bin < 0) return { fine: false, fault: `item ${item} is in no bin` }
    loads.set(bin, (loads.get(bin) ?? 0) + numbers[item + 2]!)
  }
  for (const [bin, load] of loads) {
    if (load > capacity!) return { fine: false, fault: `bin ${bin} holds ${load}, more than ${capacity}` }
  }
  return { fine: true, value: loads.size }
}
