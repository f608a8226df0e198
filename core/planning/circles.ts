/** One circle in a graph, as the nodes on it in order, or null when there is none. Without recursion: chains may be long. */
export function circleOf(next: readonly (readonly number[])[]): number[] | null {
  const state = new Uint8Array(next.length)
  const arc = new Int32Array(next.length)
  for (let first = 0; first < next.length; first++) {
    if (state[first] !== 0) continue
    const path = [first]
    state[first] = 1
    while (path.length > 0) {
      const node = path[path.length - 1]!
      const head = next[node]![arc[node]!++]
      if (head === undefined) {
        state[node] = 2
        path.pop()
      } else if (state[head] === 1) {
        return path.slice(path.indexOf(head))
      } else if (state[head] === 0) {
        state[head] = 1
        path.push(head)
      }
    }
  }
  return null
}
