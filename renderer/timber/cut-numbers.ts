import type { BoardStretch, CutBoard } from '../../desk/lumber/cut-boards.ts'

/** A rectangle in pixels, measured from the upper left corner of the drawing. */
export interface Plate {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** The plate that the number of a cut stands on. */
export interface CutNumber extends Plate {
  readonly number: number
}

const HEIGHT_PX = 14
const PX_PER_DIGIT = 7
/** How far apart places for a number are tried along its cut. */
const STEP_PX = 7

/**
 * Puts the number of each cut on its line, as near to where the cut begins as it is not in the way of what is written and of the
 * numbers before it: rips from the left end of their piece, crosscuts from its upper edge. Crosscuts of the whole board are numbered
 * above it.
 * @param px pixels of a length along the board
 * @param written what else is written in the drawing
 * @param across pixels of a width, where the drawing is wider than to scale
 */
export function cutNumbers(
  { cuts, widthNm, lengthNm }: Pick<CutBoard, 'cuts' | 'widthNm' | 'lengthNm'>,
  px: (nm: number) => number,
  written: readonly Plate[],
  across = px,
): readonly CutNumber[] {
  const [right, bottom] = [px(lengthNm), across(widthNm)]
  const taken = [...written]
  return cuts.map((cut): CutNumber => {
    const width = PX_PER_DIGIT * String(cut.number).length + 5
    const places = isThroughWhole(cut, widthNm)
      ? [{ x: at(cut, px), y: -HEIGHT_PX / 2 - 4 }]
      : [...along(cut, widthNm, px, across)]
    const plates = places.map(({ x, y }) => ({
      number: cut.number,
      x: Math.max(0, Math.min(right - width, x - width / 2)),
      y: isThroughWhole(cut, widthNm)
        ? y - HEIGHT_PX / 2
        : Math.max(0, Math.min(bottom - HEIGHT_PX, y - HEIGHT_PX / 2)),
      width,
      height: HEIGHT_PX,
    }))
    const plate = plates.find((one) => !taken.some((other) => meet(one, other))) ?? plates[0]
    if (plate === undefined) throw new Error(`Cut ${cut.number} has no length.`)
    taken.push(plate)
    return plate
  })
}

type Cut = CutBoard['cuts'][number]

/** Parts the board over its whole width. */
export const isThroughWhole = ({ way, through }: Cut, widthNm: number): boolean =>
  way === 'crosscut' && through.widthNm === widthNm

const at = ({ fromNm, toNm }: Cut, px: (nm: number) => number): number => px((fromNm + toNm) / 2)

/** The middle of a plate anywhere on the line of a cut, from where it begins. */
function* along(
  cut: Cut,
  widthNm: number,
  px: (nm: number) => number,
  across: (nm: number) => number,
): Generator<{ x: number; y: number }> {
  const { x, lengthNm, y, widthNm: wide }: BoardStretch = cut.through
  const [from, to] = cut.way === 'rip' ? [px(x), px(x + lengthNm)] : [across(widthNm - y - wide), across(widthNm - y)]
  const first = from + (cut.way === 'rip' ? 2 * STEP_PX : HEIGHT_PX / 2)
  let place = Math.min(first, (from + to) / 2)
  do {
    yield cut.way === 'rip' ? { x: place, y: across(widthNm) - at(cut, across) } : { x: at(cut, px), y: place }
    place += STEP_PX
  } while (place <= to - STEP_PX)
}

const meet = (a: Plate, b: Plate): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
