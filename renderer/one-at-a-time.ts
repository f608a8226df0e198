/** The action, which does nothing while what it started earlier still runs: a second press of the same thing is a slip. */
export function oneAtATime<Given extends readonly unknown[]>(
  action: (...given: Given) => unknown,
): (...given: Given) => Promise<void> {
  let runs = false
  return async (...given) => {
    if (runs) return
    runs = true
    try {
      await action(...given)
    } finally {
      runs = false
    }
  }
}
