import type { Grouped } from './grouped.ts'

/**
 * One circle in a graph, as the nodes on it in order, or null when there is none. Without recursion: chains may be long.
 * @param arcs the heads of the arcs out of each node
 */
export function circleOf(arcs: Grouped): number[] | null {
  const nodes = arcs.from.length - 1
  const state = new Uint8Array(nodes)
  const next = arcs.from.slice()
  const path: number[] = []
  for (let first = 0; first < nodes; first++) {
    if (state[first] !== 0) continue
    path.push(first)
    state[first] = 1
    while (path.length > 0) {
      const node = path[path.length - 1]!
      if (next[node] === arcs.from[node + 1]) {
        state[node] = 2
        path.pop()
        continue
      }
      const head = arcs.items[next[node]!++]!
      if (state[head] === 1) return path.slice(path.indexOf(head))
      if (state[head] === 0) {
        state[head] = 1
        path.push(head)
      }
    }
  }
  return null
}
