import { answerFirst, type FirstAnswers } from '../../core/almanac/first-start.ts'
import { failed, ok, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { readAsked } from '../learning/choose-times.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'

/** The first answers of a new shop; `times`: minutes for three things by their operation, blank ones not said. */
export interface AnswersAndTimes extends FirstAnswers {
  readonly times: Readonly<Record<string, string>> | null
}

/** Keeps all answers in one entry of the log, or says what is wrong with each. */
export async function firstAnswers(shop: OpenShop, answers: AnswersAndTimes): Promise<Result<Moved>> {
  const answered = answerFirst(shop.almanac, answers)
  const asked = readAsked(answers.times ?? {}, shop.now)
  if (!answered.ok || !asked.ok) {
    const slow = asked.ok ? [] : asked.problems.map((one) => ({ ...one, field: `times.${one.field}` }))
    return failed(...(answered.ok ? [] : answered.problems), ...slow)
  }
  const { times } = answered.value
  const almanac =
    answers.times === null ? answered.value : { ...answered.value, times: { ...times, asked: asked.value } }
  return shop.change(async (db) => {
    await saveAlmanac(db, almanac, shop.starting, { atMs: shop.nowMs, makerId: null })
    return ok('Saved. Change any of it in the Almanac.')
  })
}
