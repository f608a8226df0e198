import { writeLength, writeRoughLength } from '../../lengths/write-length.ts'
import { usualSize } from './usual-size.ts'
import type { FinishFacts, ShopFacts } from '../shop-facts.ts'
import type { GlueAndFinishes } from './finish-fields.ts'
import type { PartToFinish } from './finish-of-part.ts'

/** What several constructions warn of: each answers with no sentence or more. */

/** Woods that food lies on, by id. */
export interface WoodsUnderFood {
  /** Of those cells whose end grain is up. */
  readonly endGrain?: readonly string[]
  /** Of staves, frames, breadboard ends and inlays. */
  readonly longGrain: readonly string[]
}

/** What does not go together on something that is cut on or eaten from: glue, finish and woods against that use. */
export function onFoodWarnings(
  { glue, finish, part }: GlueAndFinishes,
  { endGrain = [], longGrain }: WoodsUnderFood,
  facts: ShopFacts,
): string[] {
  const species = new Map(facts.woods.map((wood) => [wood.id, wood]))
  const named = (woods: readonly string[], test: RegExp): string[] =>
    [...new Set(woods)]
      .flatMap((id) => species.get(id) ?? [])
      .filter((wood) => test.test(wood.species))
      .map((wood) => wood.name)
  const [wicking, bleeding] = [named(endGrain, WICKS), named([...endGrain, ...longGrain], BLEEDS)]
  return [
    ...(glue.water === 'none'
      ? [`${glue.name} lets go when it gets wet: take a waterproof glue for what is washed.`]
      : []),
    ...(glue.water === 'resists'
      ? [`${glue.name} stands a wipe, not a sink: a waterproof glue is safer on what is washed.`]
      : []),
    ...new Set(finishesPutOn(finish, part).flatMap(finishOnFood)),
    ...wicking.map(
      (wood) => `${wood} has open pores: its end grain wicks water right through. Take a closed-pored wood.`,
    ),
    ...bleeding.map((wood) => `${wood} bleeds color into wet food, pale woods and finish: keep it off boards.`),
  ]
}

const finishesPutOn = (finish: FinishFacts, part: PartToFinish | null): readonly FinishFacts[] =>
  part?.finish == null ? [finish] : [finish, part.finish]

const finishOnFood = (finish: FinishFacts): string[] => [
  ...filmOnChoppingFace(finish),
  ...(!finish.film && finish.onFoodPieces !== 'chopping faces and trays'
    ? [`${finish.name} isn’t usual on a face that food is cut on: offer oil and wax.`]
    : []),
]

/** Red oaks, whose pores are not plugged as those of white oak are. @source common practice, no source */
const WICKS = /^Oak, (black|red,|northern red|southern red|cherrybark|scarlet|pin|laurel|water|willow)/

/** @source common practice, no source */
const BLEEDS = /padauk|bloodwood/i

const filmOnChoppingFace = (finish: FinishFacts): string[] =>
  finish.film
    ? [
        `${finish.name} makes a film, and a film on a chopping face flakes. Offer oil and wax, or keep it for a board nobody cuts on.`,
      ]
    : []

/** Asked when the order is taken, not at the coat. */
const nutOilWarning = ({ name, nut }: FinishFacts): string[] =>
  nut === 'none usual'
    ? []
    : [`${name} ${nut === 'contains' ? 'has' : 'may have'} a nut oil in it: ask about nut allergies now.`]

/** The same of all that is put on a piece. */
export const nutOilWarnings = (finish: FinishFacts, part: PartToFinish | null): string[] => [
  ...new Set(finishesPutOn(finish, part).flatMap(nutOilWarning)),
]

export function widerThanSander(what: string, widthNm: number, { allowances, units }: ShopFacts): string[] {
  const { drumSanderWidthNm } = allowances
  if (widthNm <= drumSanderWidthNm) return []
  const [width, sander] = [writeRoughLength(widthNm, units), writeLength(drumSanderWidthNm, units)]
  return [
    `${what} is ${width} at its narrow side, the drum sander takes ${sander}: flatten it with a router sled or by hand, or make it in two halves.`,
  ]
}

export function widerThanJointer(what: string, widthNm: number, { allowances, units }: ShopFacts): string[] {
  const { jointerWidthNm } = allowances
  if (widthNm <= jointerWidthNm) return []
  const [width, jointer] = [writeLength(widthNm, units), writeLength(jointerWidthNm, units)]
  return [
    `${what}, ${width} wide, is wider than the jointer (${jointer}): rip first, flatten the halves and glue them up again.`,
  ]
}

/** Panels are sliced on the table saw: one that is thicker than the blade is high is not cut through. */
export function thickerThanBlade(what: string, thicknessNm: number, { allowances, units }: ShopFacts): string[] {
  const { bladeHeightNm } = allowances
  if (thicknessNm <= bladeHeightNm) return []
  const [thickness, blade] = [writeLength(thicknessNm, units), writeLength(bladeHeightNm, units)]
  return [
    `${what} is ${thickness} thick, the table saw cuts through ${blade}: slice it at the band saw, or take smaller cells.`,
  ]
}

/** A groove and the finger grips under it leave too little of a thin board. @source common practice, no source */
export function shallowForGroove(thicknessNm: number, facts: ShopFacts): string[] {
  const { units } = facts
  const leastNm = usualSize(facts, 3 / 4, 20)
  if (thicknessNm >= leastNm) return []
  const [thickness, least] = [writeLength(thicknessNm, units), writeLength(leastNm, units)]
  return [
    `A juice groove in a board of ${thickness} leaves little wood under it: make the board at least ${least}, or leave the groove out.`,
  ]
}
