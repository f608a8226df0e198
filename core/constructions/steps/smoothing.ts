import type { Operation } from '../../almanac/operations.ts'
import type { Decoration } from '../design/decoration.ts'
import type { GlueFacts } from '../shop-facts.ts'
import { addEngraving, addInlay } from './decoration-steps.ts'
import { addStep, type Network } from './network.ts'

export interface Smoothing {
  readonly pieces: number
  readonly juiceGroove: boolean
  readonly fingerGrips: boolean
  /** `sand` or `sand-end-grain`. */
  readonly operation: Operation
  /** Square feet of one piece, sanded through each grit. */
  readonly squareFeet: number
  /** Let in before it and engraved after it; absent: nothing. */
  readonly decoration?: { readonly what: Decoration; readonly glue: GlueFacts }
  readonly after: readonly string[]
}

/** Inlay, juice groove, finger grips, eased edges, sanding, engraving: the last dust before the finish. Returns the last key. */
export function addSmoothing(
  network: Network,
  { pieces, juiceGroove, fingerGrips, operation, squareFeet, decoration, after }: Smoothing,
): string {
  const whenCured = decoration === undefined ? null : addInlay(network, decoration.what, decoration.glue, pieces, after)
  let before = whenCured === null ? after : []
  const rout = (key: 'juice-groove' | 'finger-grips', name: string, note: string): void => {
    before = [
      addStep(network, { key, operation: key, name, note, units: pieces, dusty: true, work: ['route'], after: before }),
    ]
  }
  if (juiceGroove) rout('juice-groove', 'Rout the juice groove', 'With a fence or template, in two or three passes.')
  if (fingerGrips) rout('finger-grips', 'Rout the finger grips', 'With a fence or jig, in two passes.')
  const edges = addStep(network, {
    key: 'ease-edges',
    operation: 'ease-edges',
    name: 'Ease the edges',
    units: pieces,
    dusty: true,
    work: ['route'],
    after: before,
  })
  whenCured?.(juiceGroove ? 'juice-groove' : fingerGrips ? 'finger-grips' : edges)
  const sanded = addStep(network, {
    key: 'sand',
    operation,
    name: 'Sand',
    note: `Through ${GRITS.join(', ')} grit.`,
    units: squareFeet * GRITS.length * pieces,
    dusty: true,
    work: ['sand'],
    after: [edges],
  })
  return decoration === undefined ? sanded : addEngraving(network, decoration.what, pieces, sanded)
}

const GRITS = [80, 120, 180, 220] as const
