import { almanacFacts } from '../../core/almanac/facts.ts'
import { startingLike } from '../../core/almanac/defaults.ts'
import { localDay } from '../../core/time/local-day.ts'
import { allBoards } from '../../db/boards.ts'
import type { OpenShop } from '../open-shop.ts'
import type { CsvTable } from './write-csv.ts'

/** Every board that the shop has or had, by number; sizes in millimeters. */
export async function stockTable(shop: OpenShop): Promise<CsvTable> {
  const woods = new Map(shop.almanac.woods.map(({ id, name }) => [id, name]))
  const { currency, timeZone } = shop.almanac.shop
  const millimeters = (nm: number): number => nm / 1_000_000
  return {
    columns: [
      ...['board', 'wood', 'thickness_mm', 'width_mm', 'length_mm', 'grade_and_notes', 'place', 'price', 'currency'],
      ...['moisture_percent', 'measured_on', 'added_on', 'standing', 'offcut_of'],
    ],
    rows: (await allBoards(shop.db)).map((board) => [
      board.number,
      woods.get(board.wood) ?? board.wood,
      millimeters(board.thicknessNm),
      millimeters(board.widthNm),
      millimeters(board.lengthNm),
      board.quality,
      board.place,
      board.priceMinor === null ? null : BigInt(board.priceMinor),
      currency.code,
      board.moisture?.pct ?? null,
      board.moisture?.day ?? null,
      localDay(board.addedAtMin, timeZone),
      board.standing,
      board.cutFrom?.number ?? null,
    ]),
  }
}

/** Every fact of the almanac, in the shop's own units, with where it comes from. */
export const almanacTable = ({ almanac }: OpenShop): CsvTable => ({
  columns: ['page', 'about', 'fact', 'value', 'unit', 'built_in', 'source'],
  rows: almanacFacts(almanac, startingLike(almanac)).map((fact) => [
    fact.group,
    fact.about,
    fact.label,
    fact.value,
    fact.unit,
    fact.default,
    fact.source,
  ]),
})
