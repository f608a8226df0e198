/**
 * Lets a long list into the page some rows with every frame, so that no frame is held up; a screen is full after a few. To be
 * called while a component is set up: `const shown = growing(() => rows.length, 6)`, and `rows.slice(0, shown.count)` in the
 * markup.
 */
export function growing(length: () => number, perFrame: number): { readonly count: number } {
  let count = $state(perFrame)
  $effect(() => {
    if (count >= length()) return
    const frame = requestAnimationFrame(() => (count += perFrame))
    return () => cancelAnimationFrame(frame)
  })
  return {
    get count() {
      return count
    },
  }
}
