import type { App, Event } from 'electron'
import { readPieceCode } from '../core/labels/piece-code.ts'

/** The screen that the code of a tag opens, among the arguments of a start; null: there is none. */
export function screenOfCode(args: readonly string[]): string | null {
  const [piece] = args.flatMap((arg) => readPieceCode(arg) ?? [])
  return piece === undefined ? null : `#/no/${piece.order}/${piece.piece}`
}

/**
 * Codes that macOS hands over: as events instead of arguments, the first of them before there is a window.
 * @returns the codes until now; from the call on, each further one goes to `open` as well
 */
export function codesHandedOver(app: Pick<App, 'on'>): (open: (code: string) => void) => readonly string[] {
  const codes: string[] = []
  let open: ((code: string) => void) | null = null
  app.on('open-url', (event: Event, code: string) => {
    event.preventDefault()
    if (open === null) codes.push(code)
    else open(code)
  })
  return (opens) => {
    open = opens
    return codes
  }
}
