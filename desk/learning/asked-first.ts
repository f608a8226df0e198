/** Three things that every woodworker has a feeling for: how fast somebody is at them says most of how fast he is. */
export const ASKED_FIRST = [
  { operation: 'mill-stock', units: 10, what: 'Joint and plane 10 board feet of rough lumber' },
  { operation: 'rip-strips', units: 10, what: 'Rip 10 strips' },
  { operation: 'sand', units: 4, what: 'Sand 4 square feet with one grit' },
] as const
