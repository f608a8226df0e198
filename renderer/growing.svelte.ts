/**
 * Lets a long list into the page some rows after every frame, so that no frame is held up, and the first one waits for no row but its
 * own; a screen is full after a few. To be called while a component is set up: `const shown = growing(() => rows.length, 6)`, and
 * `rows.slice(0, shown.count)` in the markup.
 */
export function growing(length: () => number, perFrame: number): { readonly count: number } {
  let count = $state(perFrame)
  $effect(() => {
    if (count >= length()) return
    let painted: ReturnType<typeof setTimeout> | undefined
    const frame = requestAnimationFrame(() => {
      painted = setTimeout(() => (count += perFrame))
    })
    return () => {
      cancelAnimationFrame(frame)
      clearTimeout(painted)
    }
  })
  return {
    get count() {
      return count
    },
  }
}
