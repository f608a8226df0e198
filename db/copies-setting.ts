import { randomBytes } from 'node:crypto'
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { isSystemError, syncFile } from './durable-files.ts'

/**
 * Where this computer's shop is copied to besides its own disk. It is of this computer, not of the shop: opening a backup must
 * not bring back an older answer, and it must be readable when the shop's file is not.
 */
export interface CopiesSetting {
  /** Tells this shop's copies from those of another shop in the same folder. */
  readonly id: string
  readonly folder: string
  readonly namedAtMs: number
  /** The backup that was copied and verified last, with the instant of its content. */
  readonly lastGood: { readonly name: string; readonly madeAtMs: number } | null
}

const fileOf = (dataFolder: string): string => join(dataFolder, 'copies.json')

/** Null: no folder was named, or what was kept cannot be read. */
export function readCopiesSetting(dataFolder: string): CopiesSetting | null {
  try {
    const read: unknown = JSON.parse(readFileSync(fileOf(dataFolder), 'utf8'))
    return isSetting(read) ? read : null
  } catch (error) {
    if (error instanceof SyntaxError || isSystemError(error)) return null
    throw error
  }
}

/** Written whole or not at all. @throws system errors */
export function writeCopiesSetting(dataFolder: string, setting: CopiesSetting): void {
  const temporary = `${fileOf(dataFolder)}-unfinished`
  writeFileSync(temporary, `${JSON.stringify(setting, null, 2)}\n`, { mode: 0o600 })
  syncFile(temporary)
  renameSync(temporary, fileOf(dataFolder))
}

/** No folder is named any more. @throws system errors */
export const forgetCopiesSetting = (dataFolder: string): void => rmSync(fileOf(dataFolder), { force: true })

export const newCopiesId = (): string => randomBytes(4).toString('hex')

function isSetting(read: unknown): read is CopiesSetting {
  if (typeof read !== 'object' || read === null) return false
  const { id, folder, namedAtMs, lastGood } = read as Partial<Record<keyof CopiesSetting, unknown>>
  const isGood =
    lastGood === null ||
    (typeof lastGood === 'object' &&
      typeof (lastGood as { name?: unknown }).name === 'string' &&
      Number.isFinite((lastGood as { madeAtMs?: unknown }).madeAtMs))
  return (
    typeof id === 'string' &&
    /^[0-9a-f]{8}$/.test(id) &&
    typeof folder === 'string' &&
    Number.isFinite(namedAtMs) &&
    isGood
  )
}
