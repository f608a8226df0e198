/** Minutes from one tick of a rule to the next, so that a wait of that length has at most some thirty of them. */
export function tickEvery(lengthMinutes: number): { readonly short: number; readonly long: number } {
  if (lengthMinutes <= 4 * 60) return { short: 15, long: 60 }
  if (lengthMinutes <= 30 * 60) return { short: 60, long: 6 * 60 }
  if (lengthMinutes <= 7 * 1440) return { short: 6 * 60, long: 1440 }
  return { short: 1440, long: 7 * 1440 }
}

/** Where the ticks stand along a rule, as fractions of its length, counted from its beginning. */
export function ticksBetween(
  lengthMinutes: number,
  every: { readonly short: number; readonly long: number },
): readonly { readonly at: number; readonly long: boolean }[] {
  const ticks = []
  for (let minute = every.short; minute < lengthMinutes; minute += every.short) {
    ticks.push({ at: minute / lengthMinutes, long: minute % every.long === 0 })
  }
  return ticks
}
