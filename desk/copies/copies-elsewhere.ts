import { accessSync, constants, statSync } from 'node:fs'
import { stat } from 'node:fs/promises'
import { homedir } from 'node:os'
import { isAbsolute, join, relative, resolve } from 'node:path'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { type NamedBackup, namedBackups, newestOf } from '../../db/backup.ts'
import {
  copiesFolder,
  copyElsewhere,
  listCopiesElsewhere,
  type LookAtCopy,
  namedCopies,
} from '../../db/copies-elsewhere.ts'
import {
  type CopiesSetting,
  forgetCopiesSetting,
  newCopiesId,
  readCopiesSetting,
  writeCopiesSetting,
} from '../../db/copies-setting.ts'
import { isSystemError } from '../../db/durable-files.ts'
import type { ExamineElsewhere } from '../../db/examine-file.ts'
import { Turns } from '../../db/turns.ts'
import { backupRow, type BackupRow } from '../safekeeping.ts'
import { settingNotKept } from '../setting-not-kept.ts'
import { otherDisks } from './other-disks.ts'

/** Copies of the backups in a folder that the maker named, and the sticks and disks that are plugged in. */
export type CopiesElsewhereView =
  | { readonly folder: null; readonly otherPlaces: readonly string[] }
  | {
      readonly folder: string
      readonly isThere: boolean
      /** On the disk of the data folder: of use only when something syncs it elsewhere. */
      readonly isSameDisk: boolean
      /** When what was copied and verified last was written; null: nothing yet. */
      readonly lastGoodAtMs: number | null
      readonly isUpToDate: boolean
      readonly problems: readonly Problem[]
      readonly copies: readonly BackupRow[]
      readonly otherPlaces: readonly string[]
    }

const DAY_MS = 24 * 60 * 60 * 1000
const RETRY_MS = 60 * 60 * 1000
/** A good copy that is older is told on the Bench. */
const TOO_OLD_MS = 14 * DAY_MS

export interface CopiesOptions {
  readonly dataFolder: string
  readonly clockMs: () => number
  readonly examineElsewhere: ExamineElsewhere
  /** How day and time are written. */
  readonly sayDay: (atMs: number) => string
}

/**
 * The copies of the backups in a folder that the maker named: on a stick, a second disk, in a folder that is synced. The newest
 * backup must lie there too; whenever it does not and the folder is there, it is copied, so that a stick which was away for
 * a week is brought up to date by plugging it in. Works also while the shop's file cannot be opened.
 */
export class CopiesElsewhere {
  readonly #options: CopiesOptions
  readonly #path: string
  #setting: CopiesSetting | null
  readonly #turns = new Turns()
  #there = true
  #looking = new AbortController()
  #failed: { readonly problem: Problem; readonly name: string; readonly atMs: number } | null = null

  constructor(options: CopiesOptions) {
    this.#options = options
    this.#path = join(options.dataFolder, 'shop.sqlite')
    this.#setting = readCopiesSetting(options.dataFolder)
  }

  /** Where and how old the copies are. Looks into each of them. */
  view(): CopiesElsewhereView {
    const setting = this.#setting
    const otherPlaces = otherDisks()
    if (setting === null) return { folder: null, otherPlaces }
    const { folder, lastGood } = setting
    const isThere = isFolder(folder)
    return {
      folder,
      isThere,
      isSameDisk: isThere && onOneDisk(folder, this.#options.dataFolder),
      lastGoodAtMs: lastGood?.madeAtMs ?? null,
      isUpToDate: isThere && lastGood?.name === this.#newestBackup()?.name,
      problems: this.#failed === null ? [] : [this.#failed.problem],
      copies: isThere ? listCopiesElsewhere(folder).map(backupRow) : [],
      otherPlaces,
    }
  }

  /** Takes a folder that is there and may be written. Problem at `folder`. */
  name(typed: string): Result<null> {
    const checked = this.#checked(typed)
    if (!checked.ok) return checked
    const before = this.#setting
    const lastGood = before?.folder === checked.value ? before.lastGood : null
    const id = before?.id ?? newCopiesId()
    return this.#keep({ id, folder: checked.value, namedAtMs: this.#options.clockMs(), lastGood })
  }

  /** Copies no more; what was copied stays where it is. */
  forget(): Result<null> {
    try {
      forgetCopiesSetting(this.#options.dataFolder)
    } catch (error) {
      return settingNotKept(error)
    }
    this.#setting = null
    this.#failed = null
    return ok(null)
  }

  /** The path of a copy in the list; only what is listed is ever opened. */
  find(name: string): Result<{ readonly name: string; readonly path: string }> {
    const found =
      this.#setting === null ? undefined : namedCopies(this.#setting.folder).find((one) => one.name === name)
    return found === undefined ? failed(problem('backup-missing', 'This copy is not there any more.')) : ok(found)
  }

  /**
   * Copies the newest backup when the folder is there and lacks it; cheap to ask every few seconds. True: something is to be
   * shown that was not before.
   */
  keepUp(): Promise<boolean> {
    return this.#turns.take(() =>
      this.#keepUp({ examineElsewhere: this.#options.examineElsewhere, signal: this.#looking.signal }),
    )
  }

  /** The same for the last time: whoever closes waits for no copy that is still looked through, and not until all of a large one is. */
  keepUpAtClosing(): Promise<boolean> {
    this.#looking.abort()
    return this.#turns.take(() => this.#keepUp('at-closing'))
  }

  async #keepUp(look: LookAtCopy): Promise<boolean> {
    const setting = this.#setting
    const newest = this.#newestBackup()
    if (setting === null || newest === undefined) return false
    const wasThere = this.#there
    // A share on the network that is gone may take long to say so: nobody must wait for that.
    this.#there = await stat(setting.folder).then(
      (state) => state.isDirectory(),
      () => false,
    )
    if (!this.#there) return wasThere
    const inside = copiesFolder(setting.folder, setting.id)
    const isCopied = await stat(join(inside, newest.name)).then(
      () => true,
      () => false,
    )
    if (isCopied && setting.lastGood?.name === newest.name) return !wasThere
    const nowMs = this.#options.clockMs()
    if (this.#failed?.name === newest.name && Math.abs(nowMs - this.#failed.atMs) < RETRY_MS) return !wasThere
    const copied = await copyElsewhere(newest, inside, nowMs, look)
    if (setting !== this.#setting) return true
    if (!copied.ok && copied.problems[0]?.code === 'copy-stopped') return false
    const [why] = copied.ok ? [] : copied.problems
    this.#failed = why === undefined ? null : { problem: why, name: newest.name, atMs: nowMs }
    if (copied.ok) this.#keep({ ...setting, lastGood: { name: newest.name, madeAtMs: newest.madeAtMs } })
    return true
  }

  /** What the Bench says: a copy that failed, a folder that is not there, a last good copy that is too old. */
  warnings(): Problem[] {
    const setting = this.#setting
    if (setting === null) return []
    const { folder, lastGood, namedAtMs } = setting
    const newest = this.#newestBackup()
    if (newest === undefined || lastGood?.name === newest.name) return []
    const isOld = this.#options.clockMs() - (lastGood?.madeAtMs ?? namedAtMs) > TOO_OLD_MS
    const said = [
      isOld ? 'Your last copy elsewhere is over two weeks old.' : '',
      !this.#there ? `The folder for copies is not there: ${folder}. Plug in its disk or stick.` : '',
      this.#there ? (this.#failed?.problem.message ?? '') : '',
    ].filter((sentence) => sentence !== '')
    if (said.length === 0) return []
    const last =
      lastGood === null ? 'No copy was made yet.' : `Last good copy: ${this.#options.sayDay(lastGood.madeAtMs)}.`
    return [problem(isOld ? 'copies-old' : 'copies-missing', [...said, last].join(' '))]
  }

  #newestBackup(): NamedBackup | undefined {
    return newestOf(namedBackups(this.#path), this.#options.clockMs())
  }

  #keep(setting: CopiesSetting): Result<null> {
    try {
      writeCopiesSetting(this.#options.dataFolder, setting)
    } catch (error) {
      return settingNotKept(error)
    }
    if (this.#setting?.folder !== setting.folder) [this.#failed, this.#there] = [null, true]
    this.#setting = setting
    return ok(null)
  }

  #checked(typed: string): Result<string> {
    const text = typed.trim()
    const folder = text === '~' || /^~[/\\]/.test(text) ? join(homedir(), text.slice(1)) : text
    const wrong = (code: string, message: string) => failed(problem(code, message, 'folder'))
    if (folder === '') return wrong('too-small', `Type a folder, such as ${EXAMPLE}.`)
    if (!isAbsolute(folder)) return wrong('bad-input', `Type the whole path, such as ${EXAMPLE}.`)
    const path = resolve(folder)
    if (!isFolder(path)) return wrong('folder-missing', 'This folder is not there. Plug in the disk, or make it first.')
    const inside = relative(resolve(this.#options.dataFolder), path)
    if (inside === '' || (!inside.startsWith('..') && !isAbsolute(inside)))
      return wrong('folder-inside', 'This is the data folder itself. Pick one on another disk.')
    try {
      accessSync(path, constants.W_OK)
    } catch {
      return wrong('folder-closed', 'This folder cannot be written to. Pick another.')
    }
    return ok(path)
  }
}

const EXAMPLE = { win32: 'E:\\copies', darwin: '/Volumes/STICK' }[process.platform as string] ?? '/media/stick'

const isFolder = (path: string): boolean => {
  try {
    return statSync(path, { throwIfNoEntry: false })?.isDirectory() === true
  } catch (error) {
    if (!isSystemError(error)) throw error
    return false
  }
}

function onOneDisk(one: string, other: string): boolean {
  const [left, right] = [one, other].map((path) => statSync(path, { throwIfNoEntry: false })?.dev)
  return left !== undefined && left === right
}
