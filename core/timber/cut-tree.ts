import type { Cut, CutPart, Region } from './cutting-model.ts'

/** A piece of a board while parts are laid out on it: still free, a part, or cut in two. */
export class CutTree {
  private state: State = { kind: 'free' }
  readonly region: Region

  constructor(region: Region) {
    this.region = region
  }

  /**
   * Lays a part into the lower left corner of this free piece: one cut at its length and one at its width, in the order that
   * `first` says.
   */
  lay(part: string, lengthNm: number, widthNm: number, first: 'crosscut' | 'rip', kerfNm: number): void {
    const second = first === 'crosscut' ? 'rip' : 'crosscut'
    const inner = this.cut(first, first === 'crosscut' ? lengthNm : widthNm, kerfNm)
    const innermost = inner.cut(second, second === 'crosscut' ? lengthNm : widthNm, kerfNm)
    innermost.state = { kind: 'part', part }
  }

  /** The same piece with all that is laid on it, to be gone on with apart from this one. */
  copy(): CutTree {
    const copy = new CutTree(this.region)
    const { state } = this
    copy.state = state.kind === 'cut' ? { ...state, kept: state.kept.copy(), rest: state.rest?.copy() ?? null } : state
    return copy
  }

  /** Its pieces that are still free. */
  free(): CutTree[] {
    if (this.state.kind === 'cut') return [...this.state.kept.free(), ...(this.state.rest?.free() ?? [])]
    return this.state.kind === 'free' ? [this] : []
  }

  /** Cuts, parts and free pieces in the order in which the saw gets to them. */
  collect(cuts: Cut[], parts: CutPart[], free: Region[]): void {
    if (this.state.kind === 'free') free.push(this.region)
    else if (this.state.kind === 'part') parts.push({ ...this.region, part: this.state.part })
    else {
      cuts.push(this.state.cut)
      this.state.kept.collect(cuts, parts, free)
      this.state.rest?.collect(cuts, parts, free)
    }
  }

  private cut(way: 'crosscut' | 'rip', atNm: number, kerfNm: number): CutTree {
    const { x, y, lengthNm, widthNm } = this.region
    const whole = way === 'crosscut' ? lengthNm : widthNm
    if (whole === atNm) return this
    const beyond = whole - atNm - kerfNm
    const start = way === 'crosscut' ? x : y
    const cut: Cut = {
      way,
      through: this.region,
      fromNm: start + atNm,
      toNm: Math.min(start + whole, start + atNm + kerfNm),
    }
    const kept = new CutTree(way === 'crosscut' ? { x, y, lengthNm: atNm, widthNm } : { x, y, lengthNm, widthNm: atNm })
    let beyondTree: CutTree | null = null
    if (beyond > 0) {
      beyondTree = new CutTree(
        way === 'crosscut'
          ? { x: cut.toNm, y, lengthNm: beyond, widthNm }
          : { x, y: cut.toNm, lengthNm, widthNm: beyond },
      )
    }
    this.state = { kind: 'cut', cut, kept, rest: beyondTree }
    return kept
  }
}

type State =
  | { readonly kind: 'free' }
  | { readonly kind: 'part'; readonly part: string }
  | { readonly kind: 'cut'; readonly cut: Cut; readonly kept: CutTree; readonly rest: CutTree | null }
