import { readDuration } from '../../time/duration.ts'
import type { SpecInput, Units } from '../construction.ts'
import { freeList } from '../free-list/free-list.ts'
import { emptyStep, startingOwnConstruction } from './own-form.ts'

/** A form that begins with the steps of the free list: the same rows, with what a free list has no field for left as usual. */
export function ownFromFreeList(units: Units): SpecInput {
  const rows = freeList.starting(units)['rows']
  const steps = (Array.isArray(rows) ? rows : []).map((row) => {
    const minutes = readDuration(String(row['minutes'] ?? ''), 'min')
    return { ...emptyStep, ...row, minutes: minutes.ok ? String(minutes.value) : '' }
  })
  return { ...startingOwnConstruction(units), fields: [], parts: [], steps }
}

/** A form that begins as a copy of another, to be given a name of its own. */
export const copyOfOwn = (input: SpecInput): SpecInput => ({ ...input, name: `${String(input['name'] ?? '')} (copy)` })
