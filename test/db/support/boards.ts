import { inches } from '../../../core/lengths/length.ts'
import type { BoardFacts } from '../../../core/timber/read-board.ts'

export const aBoard = (changes: Partial<BoardFacts> = {}): BoardFacts => ({
  wood: 'walnut',
  thicknessNm: inches(2),
  widthNm: inches(7),
  lengthNm: inches(96),
  flaws: [],
  quality: 'Sapwood along one edge',
  place: 'Wall rack',
  priceMinor: 11_200,
  moisture: { pct: 8, day: '2026-11-20' },
  hereSince: '2026-11-12',
  boughtFor: null,
  ...changes,
})
