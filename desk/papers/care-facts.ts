import { operationKind } from '../../core/almanac/operations.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { BookStep, Commission, Piece } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import type { FinishFacts } from '../../core/constructions/shop-facts.ts'
import type { CareFacts, CareGroup } from '../../core/papers/care.ts'
import { partOfCoat } from '../../core/timber/coat-steps.ts'
import { localDay } from '../../core/time/local-day.ts'
import { writeLocalDayInFull } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'

/** Constructions whose face a knife works on. */
const CUT_ON: ReadonlySet<string> = new Set(['end-grain-board', 'edge-grain-board'])

/** What a care card says of an order: of each piece by its coats and by what the buyer was asked, pieces that are cared for alike together. */
export function careGroups({ id }: Commission, moment: Moment): readonly CareGroup[] {
  const steps = moment.stepsOf(id)
  const each = moment.book.pieces
    .filter(({ commissionId }) => commissionId === id)
    .map((piece) => ({
      title: countedTitle(piece),
      facts: careFacts(
        piece,
        steps.filter(({ pieceId }) => pieceId === piece.id),
        moment,
      ),
    }))
  return [...Map.groupBy(each, ({ facts }) => JSON.stringify(facts)).values()].map((alike) => ({
    titles: alike.map(({ title }) => title),
    facts: alike[0]!.facts,
  }))
}

function careFacts({ construction }: Piece, steps: readonly BookStep[], moment: Moment): CareFacts {
  const coats = lastCoats(steps)
  const known = shopFactsOf(moment.almanac, moment.now).finishes
  const finishes = [...new Set(coats.map(({ tackyProduct }) => tackyProduct))].flatMap(
    (product) => known.find((one) => one.id === product) ?? [],
  )
  const food = steps.some(({ cautions }) => cautions.some((caution) => caution.startsWith('food')))
  const cutOn = CUT_ON.has(construction)
  const ends = coats.map((coat) => doneAt(coat, moment))
  const on = ends.length === 0 || ends.includes(null) ? null : Math.max(...ends.map(Number))
  const cured = on === null ? null : curedAt(coats, known, moment)
  const say = (instant: number | null): string | null =>
    instant === null ? null : writeLocalDayInFull(localDay(instant, moment.wording.timeZone), moment.wording.locale)
  return {
    use: cutOn ? 'cut-on' : food ? 'eaten-from' : 'neither',
    finish: coats.length > 0 ? finishes.map(({ name }) => name).join(' and ') : null,
    film: finishes.some(({ film }) => film),
    lastCoat: say(on),
    curedOn: say(cured),
  }
}

/** The last coat of every piece, and of every part of it that is finished in its own way; an oil that never gets tacky is one too. */
function lastCoats(steps: readonly BookStep[]): readonly BookStep[] {
  const coats = steps.filter(({ operation, lost }) => operationKind(operation) === 'coat' && lost !== true)
  return [...new Map(coats.map((coat) => [`${coat.pieceId}/${coat.lot}/${partOfCoat(coat)}`, coat])).values()]
}

function doneAt(step: BookStep, moment: Moment): number | null {
  const progress = moment.progress(step.id)
  return progress.kind === 'done' ? progress.endedAt : null
}

/** When the last of these coats is fully cured, which is long after it may be handled; null where nothing hardens. */
function curedAt(coats: readonly BookStep[], finishes: readonly FinishFacts[], moment: Moment): number | null {
  const cured = coats.flatMap((coat) => {
    const finish = finishes.find(({ id, hardens }) => hardens && id === coat.tackyProduct)
    const ended = doneAt(coat, moment)
    return finish === undefined || ended === null ? [] : [ended + finish.fullCure.typical]
  })
  return cured.length === 0 ? null : Math.max(...cured)
}
