/** Does something in its parts, one right after the other. */
export function atOnce<T>(parts: Generator<void, T>): T {
  for (;;) {
    const part = parts.next()
    if (part.done === true) return part.value
  }
}
