import { addStep, type Network } from './network.ts'

export interface Smoothing {
  readonly pieces: number
  readonly juiceGroove: boolean
  readonly fingerGrips: boolean
  /** `sand` or `sand-end-grain`. */
  readonly operation: string
  /** Square feet of one piece, sanded through each grit. */
  readonly squareFeet: number
  readonly after: readonly string[]
}

/** Juice groove, finger grips, eased edges, sanding: the last dust before the finish. Returns the key of sanding. */
export function addSmoothing(
  network: Network,
  { pieces, juiceGroove, fingerGrips, operation, squareFeet, after }: Smoothing,
): string {
  let before = after
  const rout = (key: string, name: string, note: string): void => {
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
  return addStep(network, {
    key: 'sand',
    operation,
    name: 'Sand',
    note: `Through ${GRITS.join(', ')} grit.`,
    units: squareFeet * GRITS.length * pieces,
    dusty: true,
    work: ['sand'],
    after: [edges],
  })
}

const GRITS = [80, 120, 180, 220] as const
