import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { startingLike } from '../../core/almanac/defaults.ts'
import { almanacFacts } from '../../core/almanac/facts.ts'
import { type ListedInput, changeOneFact, removeListed, saveListed } from './change-almanac.ts'
import { sayAway } from './away-today.ts'
import { firstAnswers, type AnswersAndTimes } from './first-start.ts'
import { noInput } from '../procedure.ts'
import {
  constructionDrafts,
  dropConstructionDraft,
  keepConstructionDraft,
  tryConstruction,
  type ConstructionDraft,
} from './own-constructions.ts'
import { fewFields, id, listedId, short, specInput, tooManyFields } from '../forms.ts'
import { inShop } from '../in-shop.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { AlmanacFact } from '../../core/almanac/fact.ts'

export interface AlmanacView {
  readonly almanac: Almanac
  /** Every single figure with its value, default, unit and source, as texts in the maker's units. */
  readonly facts: readonly AlmanacFact[]
}

const constructionDraft = z.strictObject({
  key: id,
  id: z.string().max(64),
  input: specInput,
}) satisfies z.core.$ZodType<ConstructionDraft>

const lists = [
  'makers',
  'specialDays',
  'stations',
  'glues',
  'finishes',
  'woods',
  'constructions',
  'places',
  'finishSchedules',
] as const

const hours = z.strictObject({ from: short, to: short })

const product = z.strictObject({
  id: listedId,
  class: short,
  name: short,
  label: z.record(z.string().max(40), short).refine(fewFields, tooManyFields),
})

const listed = z.discriminatedUnion('list', [
  z.strictObject({
    list: z.literal('makers'),
    item: z.strictObject({
      id: listedId,
      name: short,
      attendance: short,
      hours: z
        .array(hours.extend({ weekday: z.int() }))
        .max(50)
        .readonly(),
    }),
  }),
  z.strictObject({
    list: z.literal('specialDays'),
    item: z.strictObject({
      id: listedId,
      day: short,
      kind: short,
      maker: short,
      note: short,
      hours: z.array(hours).max(20).readonly(),
    }),
  }),
  z.strictObject({
    list: z.literal('stations'),
    item: z.strictObject({ id: listedId, name: short, kind: short, capacity: short }),
  }),
  z.strictObject({ list: z.literal('glues'), item: product }),
  z.strictObject({ list: z.literal('finishes'), item: product }),
  z.strictObject({ list: z.literal('woods'), item: z.strictObject({ id: listedId, name: short, species: short }) }),
  z.strictObject({
    list: z.literal('places'),
    item: z.strictObject({
      id: listedId,
      ...{ name: short, kind: short, temperature: short, humidity: short, capacity: short, carry: short },
      inPlans: z.boolean(),
    }),
  }),
  z.strictObject({
    list: z.literal('finishSchedules'),
    item: z.strictObject({
      ...{ id: listedId, name: short, rubOut: short, wax: listedId },
      layers: z.array(z.strictObject({ finish: listedId, coats: short, method: short, sandGrit: short })).max(12),
    }),
  }),
  z.strictObject({ list: z.literal('constructions'), item: z.strictObject({ id: listedId, input: specInput }) }),
]) satisfies z.core.$ZodType<ListedInput>

const answers = z.strictObject({
  papers: z.strictObject({ shopName: short, makerName: short, address: z.string().max(2000), reach: short }).nullable(),
  hours: z
    .array(hours.extend({ weekday: z.int() }))
    .max(50)
    .readonly()
    .nullable(),
  daysOfTen: short.nullable(),
  stations: z.record(listedId, short).refine(fewFields, tooManyFields).nullable(),
  heated: short.nullable(),
  usual: z.strictObject({ wood: listedId, finish: listedId }).nullable(),
  times: z.record(z.string().max(100), short).refine(fewFields, tooManyFields).nullable(),
}) satisfies z.core.$ZodType<AnswersAndTimes>

/** Facts of the shop, and constructions of its own. */
export const almanacProcedures = {
  almanac: inShop(noInput, ({ almanac }) =>
    ok({ almanac, facts: almanacFacts(almanac, startingLike(almanac)) } satisfies AlmanacView),
  ),
  makerAway: inShop(z.strictObject({ makerId: listedId, away: z.boolean() }), (shop, { makerId, away }) =>
    sayAway(shop, makerId, away),
  ),
  almanacChangeFact: inShop(
    z.strictObject({ key: z.string().max(200), input: z.string().max(4_000) }),
    (shop, { key, input }) => changeOneFact(shop, key, input),
  ),
  almanacSave: inShop(listed, saveListed),
  almanacRemove: inShop(z.strictObject({ list: z.enum(lists), id: listedId }), (shop, { list, id: thing }) =>
    removeListed(shop, list, thing),
  ),
  firstAnswers: inShop(answers, firstAnswers),
  constructionDrafts: inShop(noInput, async (shop) => ok(await constructionDrafts(shop))),
  constructionDraftSave: inShop(constructionDraft, async (shop, input) => {
    await keepConstructionDraft(shop, input)
    return ok(null)
  }),
  constructionDraftDrop: inShop(z.strictObject({ key: id }), async (shop, { key }) => {
    await dropConstructionDraft(shop, key)
    return ok(null)
  }),
  constructionTry: inShop(constructionDraft.omit({ key: true }), tryConstruction),
}
