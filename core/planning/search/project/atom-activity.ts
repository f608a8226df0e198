/**
 * Which questions "does this activity start by then?" took part in recent conflicts: a heap of such atoms by decaying
 * activity, the branching order of clause learning (variable state independent decaying sum).
 */
export class AtomActivity {
  private readonly idOf = new Map<number, number>()
  private readonly activityOfAtom: number[] = []
  private readonly startBy: number[] = []
  private readonly activities: number[] = []
  private readonly heap: number[] = []
  private readonly placeInHeap: number[] = []
  private increment = 1

  /** The atom of a literal (bound, value) or of its opposite: activity starts by `latest`. */
  bump(bound: number, value: number): void {
    const activity = bound >> 1
    const latest = (bound & 1) === 1 ? -value : value - 1
    const key = activity * 0x100000 + latest
    let id = this.idOf.get(key)
    if (id === undefined) {
      id = this.startBy.length
      this.idOf.set(key, id)
      this.activityOfAtom.push(activity)
      this.startBy.push(latest)
      this.activities.push(0)
      this.placeInHeap.push(-1)
      this.insert(id)
    }
    this.activities[id]! += this.increment
    if (this.activities[id]! > 1e100) this.rescale()
    if (this.placeInHeap[id]! >= 0) this.rise(this.placeInHeap[id]!)
  }

  decay(): void {
    this.increment /= 0.95
  }

  /** Takes the most active atom out; -1 when there is none. */
  take(): number {
    const top = this.heap[0]
    if (top === undefined) return -1
    const last = this.heap.pop()!
    this.placeInHeap[top] = -1
    if (last !== top) {
      this.heap[0] = last
      this.placeInHeap[last] = 0
      this.sink(0)
    }
    return top
  }

  insert(id: number): void {
    if (this.placeInHeap[id]! >= 0) return
    this.heap.push(id)
    this.placeInHeap[id] = this.heap.length - 1
    this.rise(this.heap.length - 1)
  }

  activityIn(id: number): number {
    return this.activityOfAtom[id]!
  }

  latestIn(id: number): number {
    return this.startBy[id]!
  }

  private rise(from: number): void {
    const { heap, activities, placeInHeap } = this
    const id = heap[from]!
    let place = from
    while (place > 0) {
      const parent = (place - 1) >> 1
      if (activities[heap[parent]!]! >= activities[id]!) break
      heap[place] = heap[parent]!
      placeInHeap[heap[place]!] = place
      place = parent
    }
    heap[place] = id
    placeInHeap[id] = place
  }

  private sink(from: number): void {
    const { heap, activities, placeInHeap } = this
    const id = heap[from]!
    let place = from
    for (;;) {
      let child = 2 * place + 1
      if (child >= heap.length) break
      if (child + 1 < heap.length && activities[heap[child + 1]!]! > activities[heap[child]!]!) child += 1
      if (activities[heap[child]!]! <= activities[id]!) break
      heap[place] = heap[child]!
      placeInHeap[heap[place]!] = place
      place = child
    }
    heap[place] = id
    placeInHeap[id] = place
  }

  private rescale(): void {
    for (let id = 0; id < this.activities.length; id++) this.activities[id]! *= 1e-100
    this.increment *= 1e-100
  }
}
