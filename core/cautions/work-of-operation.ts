import type { Work } from './cautions-for-step.ts'

/** What is done in an operation of the almanac, as far as it can hurt somebody; null where that depends on the step. */
export const workOfOperation = (operation: string): readonly Work[] | null => WORK[operation] ?? null

const WORK: Readonly<Record<string, readonly Work[]>> = {
  'mill-stock': ['joint', 'plane'],
  'rip-strips': ['rip-narrow'],
  'freshen-edges': ['joint'],
  'flatten-panel': ['sand', 'move'],
  'flatten-end-grain': ['plane-end-grain', 'sand', 'move'],
  'crosscut-slices': ['crosscut-slices'],
  'trim-square': ['crosscut'],
  'tongue-and-groove': ['groove'],
  'mitre-frame': ['mitre'],
  'spline-slots': ['groove', 'on-edge'],
  'bevel-edges': ['on-edge', 'route'],
  'fit-breadboard-ends': ['groove'],
  'groove-box': ['groove'],
  'rebate-box': ['crosscut', 'groove'],
  'flush-box': ['sand'],
  'fit-lid': ['crosscut', 'route'],
  'mortise-and-tenon': ['groove', 'route'],
  'make-buttons': ['crosscut-slices', 'groove', 'short-parts'],
  'fit-top': ['move'],
  'ease-edges': ['route'],
  'juice-groove': ['route'],
  'finger-grips': ['route'],
  sand: ['sand'],
  'sand-end-grain': ['sand'],
  'sand-between-coats': ['sand', 'sand-finish'],
  'spray-coat': ['coat', 'spray'],
  inlay: ['route', 'short-parts'],
  engrave: ['engrave'],
  'cut-handles': ['route'],
  'inspect-and-pack': ['hand-over'],
}
