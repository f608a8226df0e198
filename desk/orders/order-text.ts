import type { Almanac } from '../../core/almanac/almanac.ts'
import type { Commission, Piece } from '../../core/book/book.ts'
import { constructionOfPiece, typedSpec } from '../../core/constructions/constructions.ts'
import type { SpecInput } from '../../core/constructions/construction.ts'
import { writeMoney } from '../../core/money/money.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'

/** A piece as far as finding asks. */
export type FoundPiece = Pick<Piece, 'construction' | 'spec' | 'title' | 'count'>

/** Everything that was typed about an order, for finding it again: contact, notes, price, days, sizes, woods and finishes by name. */
export function orderText(
  commission: Commission,
  pieces: readonly FoundPiece[],
  { almanac, names, locale }: { almanac: Almanac; names: ReadonlyMap<string, string>; locale: string },
): string {
  const { customer } = commission
  const days = [commission.promisedFor, commission.neededBy].flatMap((day) =>
    day === null ? [] : [writeLocalDay(day, locale)],
  )
  const minors = [commission.priceMinor, ...commission.extraLines.map(({ minor }) => minor)]
  return [
    ...[customer.name, customer.reach, customer.secondReach, customer.address, customer.allergies, customer.notes],
    `no. ${commission.number}`,
    ...[commission.notes, commission.neededWhy, commission.onHoldWhy, commission.closedWhy],
    ...[commission.giftFor, commission.giftAddress, ...commission.extraLines.map(({ name }) => name)],
    ...days,
    ...minors.flatMap((minor) => (minor === null ? [] : [writeMoney(minor, almanac.shop.currency, locale)])),
    ...pieces.flatMap((piece) => pieceText(piece, almanac, names)),
  ]
    .filter((text) => text !== '')
    .join(', ')
}

/** Woods, finishes and glues by the ids that specs have of them: the same for every order of a list. */
export const namesInSpecs = ({ woods, finishes, glues }: Almanac): ReadonlyMap<string, string> =>
  new Map([...woods, ...finishes, ...glues].map(({ id, name }) => [id, name]))

function pieceText(piece: FoundPiece, almanac: Almanac, names: ReadonlyMap<string, string>): readonly string[] {
  const construction = constructionOfPiece(piece)
  const input = typedSpec(piece, almanac.shop.units)
  if (construction === undefined || input === null) return [piece.title]
  return [
    piece.title,
    construction.name,
    ...Object.values(input)
      .flatMap(textsOf)
      .map((text) => names.get(text) ?? text),
  ]
}

const textsOf = (value: SpecInput[string]): readonly string[] =>
  typeof value === 'string'
    ? [value]
    : Array.isArray(value)
      ? value.flatMap((row: Readonly<Record<string, unknown>>) =>
          Object.values(row).filter((cell) => typeof cell === 'string'),
        )
      : []
