import { addStep, type Network } from './network.ts'

export interface Smoothing {
  readonly pieces: number
  readonly fingerGrips: boolean
  /** `sand` or `sand-end-grain`. */
  readonly operation: string
  /** Square feet of one piece, sanded through each grit. */
  readonly squareFeet: number
  readonly after: readonly string[]
}

/** Finger grips, eased edges, sanding: the last dust before the finish. Returns the key of sanding. */
export function addSmoothing(
  network: Network,
  { pieces, fingerGrips, operation, squareFeet, after }: Smoothing,
): string {
  let before = after
  if (fingerGrips) {
    const grips = addStep(network, {
      key: 'grips',
      operation: 'finger-grips',
      name: 'Rout the finger grips',
      note: 'With a fence or jig, in two passes.',
      units: pieces,
      dusty: true,
      work: ['route'],
      after: before,
    })
    before = [grips]
  }
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
