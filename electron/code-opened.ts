import { readPieceCode } from '../core/labels/piece-code.ts'

/** The screen that the code of a tag opens, among the arguments of a start; null: there is none. */
export function screenOfCode(args: readonly string[]): string | null {
  const [piece] = args.flatMap((arg) => readPieceCode(arg) ?? [])
  return piece === undefined ? null : `#/no/${piece.order}/${piece.piece}`
}
