import { caution } from '../core/cautions/cautions.ts'

/** Cautions of a step as they are shown: worst first; ids that this version does not know are left out. */
export const cautionLines = (ids: readonly string[]): { readonly id: string; readonly text: string }[] =>
  ids.flatMap((id) => {
    const known = caution(id)
    return known ? [{ id, text: `${known.title}. ${known.whatToDo}` }] : []
  })
