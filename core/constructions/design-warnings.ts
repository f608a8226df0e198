import { writeLength } from '../lengths/write-length.ts'
import type { FinishFacts, ShopFacts } from './shop-facts.ts'

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
