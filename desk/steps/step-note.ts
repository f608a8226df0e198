import type { BookStep } from '../../core/book/book.ts'
import { builtAt } from '../built-at.ts'
import { lotBuild } from '../lot-build.ts'
import type { Moment } from '../moment.ts'

/**
 * What to do at a step. Depths and gaps in it follow the season in which the plan has the piece joined and the home where it will
 * live, as the sizes of the commission do; a step that is done keeps what was said then.
 */
export function noteOf(step: BookStep, moment: Moment): string {
  if (step.note === '' || moment.progress(step.id).kind === 'done') return step.note
  return notesOf(step, moment).get(step.key) ?? step.note
}

const known = new WeakMap<Moment, Map<string, ReadonlyMap<string, string>>>()

/** The notes of its lot by step; worked out once a moment. */
function notesOf(step: BookStep, moment: Moment): ReadonlyMap<string, string> {
  const ofMoment = known.get(moment) ?? new Map<string, ReadonlyMap<string, string>>()
  known.set(moment, ofMoment)
  const lot = `${step.pieceId}/${step.lot}`
  const notes = ofMoment.get(lot) ?? buildNotes(step, moment)
  ofMoment.set(lot, notes)
  return notes
}

function buildNotes(step: BookStep, moment: Moment): ReadonlyMap<string, string> {
  const lot = moment.lotOf(step.id)
  const { almanac } = moment
  const build = lot && lotBuild(lot.piece, lot.label.count, almanac, builtAt(lot.steps, moment), lot.commission.home)
  return new Map(build?.ok ? build.value.steps.map(({ key, note }) => [key, note]) : [])
}
