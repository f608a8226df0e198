import type { StepLine } from '../../desk/screens/commission.ts'

/** The cautions of the steps still to do, each once, with the steps at which it is to be minded. */
export function cautionsSaidOnce(
  steps: readonly StepLine[],
): readonly { readonly id: string; readonly text: string }[] {
  const said = new Map<string, { readonly text: string; readonly at: Set<string> }>()
  for (const step of steps) {
    if (step.state === 'done') continue
    for (const { id, text } of step.cautions) {
      const known = said.get(id) ?? { text, at: new Set() }
      said.set(id, known)
      known.at.add(step.name)
    }
  }
  return [...said].map(([id, { text, at }]) => ({ id, text: `${text} (${[...at].join(', ')})` }))
}
