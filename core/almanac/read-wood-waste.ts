import type { LengthUnits } from '../lengths/length.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import { GRADES, type WoodWaste } from '../timber/waste.ts'
import { readRoughThickness, writeRoughThickness } from '../wood/rough-thickness.ts'
import type { Almanac } from './almanac.ts'
import { readFraction, writeFraction } from './read-figures.ts'

/** No yard sells boards of which less than a tenth is left. */
export const MOST_WASTE = 0.9

/**
 * Waste of one wood as it is typed: a share or a grade, then thicknesses that lose another: `20%`, `No. 1 common`, `FAS, 8/4 30%`.
 * @returns null for an empty text: as every wood
 */
export function readWoodWaste(text: string, wood: string, units: LengthUnits): Result<WoodWaste | null> {
  const [first = '', ...others] = text
    .split(/[,;]\s+|[,;]$|;/)
    .map((part) => part.trim())
    .filter((part) => part !== '')
  if (first === '') return ok(null)
  const grade = GRADES.find(({ typed }) => typed.includes(first.toLowerCase().replace(/[^a-z0-9]/g, '')))
  const share = grade === undefined ? shareIn(first, wood) : ok(grade.share)
  if (!share.ok) return share
  const byThickness: { thicknessNm: number; share: number }[] = []
  for (const other of others) {
    const [, thick = '', lost = ''] = /^(.*\S)\s+(\S+(?:\s*%)?)$/.exec(other) ?? []
    const thickness = readRoughThickness(thick, units)
    const own = shareIn(lost, wood)
    if (!thickness.ok || thickness.value <= 0 || !own.ok) return failed(unreadable(wood))
    byThickness.push({ thicknessNm: thickness.value, share: own.value })
  }
  return ok({ grade: grade?.id ?? null, share: share.value, byThickness })
}

function shareIn(text: string, wood: string): Result<number> {
  const share = readFraction(text, wood, 0)
  return share.ok && share.value <= MOST_WASTE ? share : failed(unreadable(wood))
}

const unreadable = (wood: string) =>
  problem('waste', `${wood}: type a share or grade, then thicknesses, like FAS, 8/4 30%.`)

/** The share of every wood, and those of single ones: "15% (Walnut: FAS)". */
export function wasteInWords({ yard, woodWaste, woods, shop }: Almanac): string {
  const own = woods.flatMap(({ id, name }) => {
    const waste = woodWaste[id]
    return waste === undefined ? [] : [`${name}: ${writeWoodWaste(waste, shop.units)}`]
  })
  return `${writeFraction(yard.waste)}${own.length === 0 ? '' : ` (${own.join('; ')})`}`
}

/** As it is typed back. */
export function writeWoodWaste({ grade, share, byThickness }: WoodWaste, units: LengthUnits): string {
  const name = GRADES.find(({ id }) => id === grade)?.name
  return [
    name ?? writeFraction(share),
    ...byThickness.map((one) => `${writeRoughThickness(one.thicknessNm, units)} ${writeFraction(one.share)}`),
  ].join(', ')
}
