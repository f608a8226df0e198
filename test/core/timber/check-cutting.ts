import type { BoardPlan, CuttingPlan, CuttingRules, PartToCut } from '../../../core/timber/cutting-model.ts'

/**
 * Saws a plan: begins with the whole board, makes each cut in its order through a piece that must be there, and looks at what lies on the
 * bench at the end. Shares no code with the planner. Answers with the first thing that is wrong, or null.
 */
export function faultIn(plan: CuttingPlan, wanted: readonly PartToCut[], rules: CuttingRules): string | null {
  const made = new Map<string, number>()
  for (const board of plan.boards) {
    const fault = faultOf(board, wanted, rules, made)
    if (fault !== null) return `${board.board.id}: ${fault}`
  }
  for (const part of wanted) {
    const missing = plan.missing.filter((one) => one.part.id === part.id).reduce((sum, one) => sum + one.quantity, 0)
    const count = made.get(part.id) ?? 0
    if (count + missing !== part.quantity) return `${part.id}: ${count} cut and ${missing} missing of ${part.quantity}`
  }
  return null
}

interface Box {
  left: number
  right: number
  low: number
  high: number
}

function faultOf(
  plan: BoardPlan,
  wanted: readonly PartToCut[],
  rules: CuttingRules,
  made: Map<string, number>,
): string | null {
  const { board } = plan
  let pieces: Box[] = [{ left: 0, right: board.lengthNm, low: 0, high: board.widthNm }]
  for (const cut of plan.cuts) {
    const { x, y, lengthNm, widthNm } = cut.through
    const at = pieces.findIndex((box) => same(box, { left: x, right: x + lengthNm, low: y, high: y + widthNm }))
    const piece = pieces[at]
    if (piece === undefined) return `a ${cut.way} goes through a piece that is not there`
    const [from, to] = cut.way === 'crosscut' ? [piece.left, piece.right] : [piece.low, piece.high]
    const kerf = cut.toNm - cut.fromNm
    const atEdge = cut.fromNm <= from || cut.toNm >= to
    if (cut.fromNm < from || cut.toNm > to || kerf <= 0) return `a ${cut.way} misses its piece`
    if (kerf > rules.kerfNm || (kerf < rules.kerfNm && !atEdge)) return `a ${cut.way} is not as wide as the saw's kerf`
    const halves =
      cut.way === 'crosscut'
        ? [
            { ...piece, right: cut.fromNm },
            { ...piece, left: cut.toNm },
          ]
        : [
            { ...piece, high: cut.fromNm },
            { ...piece, low: cut.toNm },
          ]
    const kept = halves.filter((half) => half.right > half.left && half.high > half.low)
    pieces = [...pieces.slice(0, at), ...pieces.slice(at + 1), ...kept]
  }
  for (const cutPart of plan.parts) {
    const part = wanted.find((one) => one.id === cutPart.part)
    if (part === undefined) return `a part ${cutPart.part} nobody wants`
    const box = {
      left: cutPart.x,
      right: cutPart.x + cutPart.lengthNm,
      low: cutPart.y,
      high: cutPart.y + cutPart.widthNm,
    }
    const at = pieces.findIndex((piece) => same(piece, box))
    if (at < 0) return `${part.id} does not come off the saw as a piece of its own`
    pieces.splice(at, 1)
    if (box.right - box.left !== part.lengthNm || box.high - box.low !== part.widthNm)
      return `${part.id} has a wrong size`
    if (part.wood !== board.wood) return `${part.id} is of another wood`
    if (
      part.thicknessNm + (board.thicknessNm < 49_000_000 ? rules.planing.planeFaceNm : rules.planing.planeThickNm) >
      board.thicknessNm
    )
      return `${part.id} is too thick`
    if (board.defects.some((defect) => overlaps(box, defect.fromNm, defect.toNm)))
      return `${part.id} has a defect in it`
    if (box.left < rules.squareEndNm || box.right > board.lengthNm - rules.squareEndNm) {
      return `${part.id} has a board end in it`
    }
    made.set(part.id, (made.get(part.id) ?? 0) + 1)
  }
  for (const offcut of plan.offcuts) {
    const box = { left: offcut.x, right: offcut.x + offcut.lengthNm, low: offcut.y, high: offcut.y + offcut.widthNm }
    const at = pieces.findIndex((piece) => same(piece, box))
    if (at < 0) return 'an offcut does not come off the saw'
    pieces.splice(at, 1)
    if (board.defects.some((defect) => overlaps(box, defect.fromNm, defect.toNm))) return 'an offcut has a defect in it'
  }
  return null
}

const same = (a: Box, b: Box): boolean =>
  a.left === b.left && a.right === b.right && a.low === b.low && a.high === b.high

const overlaps = (box: Box, from: number, to: number): boolean => box.left < to && from < box.right
