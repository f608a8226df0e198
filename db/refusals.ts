import { existsSync } from 'node:fs'
import { basename } from 'node:path'
import { problem, type Problem } from '../core/problems.ts'
import { type Backup, backupFolder } from './backup.ts'
import type { Examination, FileTrouble } from './examine-file.ts'

/**
 * Why a file must not be opened, with what was found and which backups there are; null when it may be.
 * @param listBackups looks into every backup, so it is asked only when there is something to say
 */
export function whyNotOpened(path: string, found: FileTrouble, listBackups: () => readonly Backup[]): Problem
export function whyNotOpened(path: string, found: Examination, listBackups: () => readonly Backup[]): Problem | null
export function whyNotOpened(path: string, found: Examination, listBackups: () => readonly Backup[]): Problem | null {
  if (found.kind === 'sound') return null
  const name = basename(path)
  const backups = listBackups()
  switch (found.kind) {
    case 'missing':
    case 'empty':
      if (backups.length === 0 && !wasOpenBefore(path)) return null
      return problem(
        'file-gone',
        `The shop's file ${name} is ${found.kind === 'missing' ? 'missing' : 'empty'}. ${whichBackups(path, backups)}`,
      )
    case 'newer':
      return problem(
        'file-newer',
        `The shop's file ${name} was written by a newer version of Out of Clamps (it went through ${found.unknown.join(', ')}). ` +
          `Nothing was written to it: install the newer version. ${whichBackups(path, backups)}`,
      )
    case 'foreign':
      return problem(
        'file-foreign',
        `The file ${name} belongs to another program. Nothing was written to it: choose another folder. ${whichBackups(path, backups)}`,
      )
    case 'unreadable':
      return problem(
        'file-unreadable',
        `The shop's file ${name} cannot be read (${found.why}): close what else uses it, or mend its permissions. ${whichBackups(path, backups)}`,
      )
    case 'damaged':
      return problem(
        'file-damaged',
        `The shop's file ${name} is damaged (${found.findings[0] ?? 'no details'}). Nothing was written to it. ${whichBackups(path, backups)}`,
      )
  }
}

/** Why a file that was open already was closed again. */
export function whyClosed(
  path: string,
  { findings }: Extract<Examination, { readonly kind: 'damaged' }>,
  listBackups: () => readonly Backup[],
): Problem {
  return problem(
    'file-damaged',
    `The shop's file ${basename(path)} is damaged (${findings[0] ?? 'no details'}). It was closed as soon as that was found: ` +
      `what you entered since the start may be missing from the backups. ${whichBackups(path, listBackups())}`,
  )
}

/** The backup folder is made with a new shop: a folder that has one had a shop in it. */
const wasOpenBefore = (path: string): boolean => existsSync(backupFolder(path))

function whichBackups(path: string, backups: readonly Backup[]): string {
  const usable = backups.filter((backup) => backup.found.kind === 'sound')
  const [newest] = usable
  const where = `in ${backupFolder(path)}`
  if (newest === undefined)
    return backups.length === 0 ? `There is no backup ${where}.` : `No backup ${where} can be opened.`
  const count = usable.length === 1 ? 'One backup is' : `${usable.length} backups are`
  return `${count} ${where}, the newest ${describe(newest)}: open it to go on from there.`
}

/** "of 2026-11-24 18:02 UTC with 14 commissions" */
function describe(backup: Backup): string {
  const at = new Date(backup.madeAtMs).toISOString()
  const commissions = backup.found.kind === 'sound' ? backup.found.commissions : 0
  return `of ${at.slice(0, 10)} ${at.slice(11, 16)} UTC with ${commissions} ${commissions === 1 ? 'commission' : 'commissions'}`
}
