import { isAwayOn, whoIn } from '../../core/almanac/people-in-plans.ts'
import type { Moment } from '../moment.ts'

/** Somebody who is in the shop today by their hours, or was said not to come. */
export interface PersonToday {
  readonly makerId: string
  readonly name: string
  readonly away: boolean
}

/** None where there is only one person. */
export function peopleToday({ almanac, setting, today }: Moment): PersonToday[] {
  if (almanac.makers.length < 2) return []
  const [from, to] = [setting.startOfDay(today), setting.endOfDay(today)]
  return almanac.makers.flatMap(({ id, name }) => {
    const away = isAwayOn(almanac, id, today)
    const hours = setting.makers.find((maker) => maker.id === id)?.hours ?? []
    return away || hours.some((session) => session.to > from && session.from < to) ? [{ makerId: id, name, away }] : []
  })
}

/** Names of who did a step, or who is planned for it; none where there is only one person who could. */
export function namesAt(stepId: string, moment: Moment): readonly string[] {
  const doer = moment.progress(stepId).kind === 'to-do' ? null : whoDoes(stepId, moment)
  return whoIn(doer === null ? (moment.planned(stepId)?.makers ?? []) : [doer], moment.almanac)
}

/** Who did a step, or the first who is planned for it; null: nobody knows. */
export function whoDoes(stepId: string, moment: Moment): string | null {
  const progress = moment.progress(stepId)
  return (progress.kind === 'to-do' ? null : progress.makerId) ?? moment.planned(stepId)?.makers[0] ?? null
}
