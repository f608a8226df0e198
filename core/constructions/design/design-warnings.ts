import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { FinishFacts, ShopFacts } from '../shop-facts.ts'

/** What several constructions warn of: each answers with no sentence or one. */
export const filmOnChoppingFace = (finish: FinishFacts): string[] =>
  finish.film
    ? [
        `${finish.name} makes a film, and a film on a chopping face flakes. Offer oil and wax, or keep it for a board nobody cuts on.`,
      ]
    : []

export function widerThanSander(what: string, widthNm: number, { allowances, units }: ShopFacts): string[] {
  const { drumSanderWidthNm } = allowances
  if (widthNm <= drumSanderWidthNm) return []
  const [width, sander] = [writeLength(widthNm, units), writeLength(drumSanderWidthNm, units)]
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

/** A groove and the finger grips under it leave too little of a thin board. */
export function shallowForGroove(thicknessNm: number, { units }: ShopFacts): string[] {
  if (thicknessNm >= LEAST_FOR_GROOVE_NM) return []
  const [thickness, least] = [writeLength(thicknessNm, units), writeLength(LEAST_FOR_GROOVE_NM, units)]
  return [
    `A juice groove in a board of ${thickness} leaves little wood under it: make the board at least ${least}, or leave the groove out.`,
  ]
}

/** Common practice, no source. */
const LEAST_FOR_GROOVE_NM = inches(3 / 4)
