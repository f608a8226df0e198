import type { Paper, PaperKind } from '../../../core/papers/paper.ts'

/** An invented paper of a kind, for somebody. */
export const aPaper = (kind: PaperKind, to: Paper['to']): Paper => ({
  ...{ kind, title: 'Paper', day: '2026-11-25', to, order: 1 },
  from: { name: 'Heron Lane Woodwork', address: '', reach: '', taxNumber: '' },
  facts: [],
  lines: [{ text: 'End-grain board', minor: 32_000 }],
  sums: [{ label: 'Total', minor: 32_000, strong: true }],
  currency: { code: 'USD', decimals: 2 },
  texts: [],
})
