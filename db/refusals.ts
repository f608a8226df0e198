import { existsSync } from 'node:fs'
import { basename } from 'node:path'
import { problem, type Problem } from '../core/problems.ts'
import { type Backup, backupFolder, newestOf } from './backup.ts'
import type { Examination, FileTrouble } from './examine-file.ts'

/** Looks into every backup, so it is asked only when there is something to say; the newest is so by the clock of now. */
export interface BackupsThere {
  readonly list: () => readonly Backup[]
  readonly nowMs: number
}

/** Why a file must not be opened, with what was found and which backups there are; null when it may be. */
export function whyNotOpened(path: string, found: FileTrouble, there: BackupsThere): Problem
export function whyNotOpened(path: string, found: Examination, there: BackupsThere): Problem | null
export function whyNotOpened(path: string, found: Examination, there: BackupsThere): Problem | null {
  if (found.kind === 'sound') return null
  const name = basename(path)
  const backups = there.list()
  switch (found.kind) {
    case 'missing':
    case 'empty':
      if (backups.length === 0 && !wasOpenBefore(path)) return null
      return problem(
        'file-gone',
        `The shop's file ${name} is ${found.kind === 'missing' ? 'missing' : 'empty'}. ${whichBackups(path, { backups, nowMs: there.nowMs })}`,
      )
    case 'newer':
      return problem(
        'file-newer',
        `The shop's file ${name} was written by a newer version of Out of Clamps (it went through ${found.unknown.join(', ')}). ` +
          `Nothing was written to it: install the newer version. ${whichBackups(path, { backups, nowMs: there.nowMs })}`,
      )
    case 'foreign':
      return problem(
        'file-foreign',
        `The file ${name} belongs to another program. Nothing was written to it: choose another folder. ${whichBackups(path, { backups, nowMs: there.nowMs })}`,
      )
    case 'unreadable':
      return problem(
        'file-unreadable',
        `The shop's file ${name} cannot be read (${found.why}): close what else uses it, or mend its permissions. ${whichBackups(path, { backups, nowMs: there.nowMs })}`,
      )
    case 'damaged':
      return problem(
        'file-damaged',
        `The shop's file ${name} is damaged (${found.findings[0] ?? 'no details'}). Nothing was written to it. ${whichBackups(path, { backups, nowMs: there.nowMs })}`,
      )
  }
}

/** Why a file that was open already was closed again. */
export function whyClosed(
  path: string,
  { findings }: Extract<Examination, { readonly kind: 'damaged' }>,
  there: BackupsThere,
): Problem {
  return problem(
    'file-damaged',
    `The shop's file ${basename(path)} is damaged (${findings[0] ?? 'no details'}). It was closed as soon as that was found: ` +
      `what you entered since the start may be missing from the backups. ${whichBackups(path, { backups: there.list(), nowMs: there.nowMs })}`,
  )
}

/** The backup folder is made with a new shop: a folder that has one had a shop in it. */
const wasOpenBefore = (path: string): boolean => existsSync(backupFolder(path))

function whichBackups(
  path: string,
  { backups, nowMs }: { readonly backups: readonly Backup[]; readonly nowMs: number },
): string {
  const usable = backups.filter((backup) => backup.found.kind === 'sound')
  const newest = newestOf(usable, nowMs)
  const where = `in ${backupFolder(path)}`
  if (newest?.found.kind !== 'sound')
    return backups.length === 0 ? `There is no backup ${where}.` : `No backup ${where} can be opened.`
  const { commissions } = newest.found
  const orders = `${commissions} ${commissions === 1 ? 'order' : 'orders'}`
  return usable.length === 1
    ? `One backup is ${where}, with ${orders}: open it to go on from there.`
    : `${usable.length} backups are ${where}, the newest with ${orders}: open one to go on from there.`
}
