import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { startingAlmanac } from '../core/almanac/defaults.ts'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { copiesOf, listBackups, namedBackups } from '../db/backup.ts'
import { type Lacking, whatCopyLacks } from '../db/backup-difference.ts'
import { openShopFile, type ShopFile } from '../db/connection.ts'
import type { ExamineElsewhere } from '../db/examine-file.ts'
import { type FolderLock, lockFolder } from '../db/folder-lock.ts'
import { openingProblem } from '../db/opening-faults.ts'
import { keepPrivate } from '../db/private-files.ts'
import { erasedCustomers, erasedIn, noteErased } from '../db/erasures.ts'
import { readyCopy, readyFile, type ReadyCopy } from '../db/restore.ts'
import { moveAside } from '../db/set-aside.ts'
import { storeProblem } from '../db/store-faults.ts'
import { Turns } from '../db/turns.ts'
import { writeDay } from '../core/time/write-instant.ts'
import { CopiesElsewhere } from './copies/copies-elsewhere.ts'
import { ShopRescue } from './copies/rescue-shop.ts'
import { fillDemoShop } from './demo/demo-shop.ts'
import { demoAlmanac } from './demo/demo-almanac.ts'
import { forecastOf } from './planner/forecast.ts'
import { ArrivingShop } from './open-formats/arriving-shop.ts'
import { notOpen, OpenShop, type OpenShopOptions } from './open-shop.ts'
import { backupRow, type Safekeeping } from './safekeeping.ts'
import { showFolder } from './show-folder.ts'
import { placeHere } from './this-computer.ts'

export interface OpeningOptions extends Omit<OpenShopOptions, 'starting' | 'forecast'> {
  readonly dataFolder: string
  readonly where: string
  readonly examineElsewhere: ExamineElsewhere
}

/** Looking through a file wants a process of its own: whoever starts the app has the first screen before that is begun. */
const FIRST_SCREEN_MS = 1_000

/**
 * The data folder and the shop in it, open or not. Whatever keeps it from being opened is a problem that stands until a copy
 * is opened, it is tried again or begun anew: never an exception.
 */
export class ShopOpening {
  #shop: OpenShop | null = null
  #trouble: Problem | null = null
  #lookSoon: NodeJS.Timeout | undefined
  #lock: FolderLock | null = null
  /** What closes the file or puts another in its place: never two at once, which would take each other's log away. */
  readonly #exchanges = new Turns()
  readonly #options: OpeningOptions
  readonly #path: string
  readonly #rescue: ShopRescue
  readonly #arriving: ArrivingShop
  /** The backups' copies on another disk, open shop or not. */
  readonly copies: CopiesElsewhere

  constructor(options: OpeningOptions) {
    this.#options = options
    this.copies = new CopiesElsewhere({
      dataFolder: options.dataFolder,
      clockMs: () => options.clock.nowMs(),
      examineElsewhere: options.examineElsewhere,
      sayDay: (atMs) =>
        writeDay(atMs / 60_000, {
          timeZone: this.#shop?.almanac.shop.timeZone ?? placeHere().timeZone,
          locale: options.locale,
        }),
    })
    this.#path = join(options.dataFolder, 'shop.sqlite')
    this.#rescue = new ShopRescue(this.#path)
    this.#arriving = new ArrivingShop(this.#path)
  }

  get shop(): OpenShop | null {
    return this.#shop
  }

  get trouble(): Problem | null {
    return this.#trouble
  }

  async open(startNew = false): Promise<void> {
    try {
      this.#trouble = await this.#tryToOpen(startNew)
    } catch (fault) {
      this.#trouble = openingProblem(fault, this.#options.dataFolder)
    }
  }

  /** Looks for what is due: called every few seconds. */
  async tick(): Promise<void> {
    const shop = this.#shop
    await shop?.during(shop.tick())
    if (shop?.file.takeDoubt() === true) void this.#lookBehind(shop.file, 'whole')
    if (await this.copies.keepUp()) this.#options.tell({ kind: 'changed' })
  }

  close(): Promise<void> {
    return this.#exchanges.take(async () => {
      await this.#closeShop()
      // What was backed up at closing goes elsewhere too, while nobody else can have the folder.
      if (this.#lock !== null) {
        await this.copies.keepUpAtClosing()
        this.#arriving.discard()
      }
      this.#lock?.release()
      this.#lock = null
    })
  }

  async #tryToOpen(startNew: boolean): Promise<Problem | null> {
    const { dataFolder, where, demo } = this.#options
    if (this.#lock === null) {
      mkdirSync(dataFolder, { recursive: true })
      const lock = lockFolder(dataFolder, { where, pid: process.pid, sinceMs: Date.now() })
      if (!lock.ok) return lock.problems[0] ?? notOpenYet
      this.#lock = lock.value
      this.#arriving.discard()
    }
    keepPrivate(dataFolder)
    const clockMs = () => this.#options.clock.nowMs()
    const file = await openShopFile(this.#path, {
      ...{ clockMs, startNew: startNew || demo },
      examineElsewhere: this.#options.examineElsewhere,
      lookFirst: this.#trouble?.code === 'file-damaged',
    })
    if (!file.ok) return file.problems[0] ?? notOpenYet
    try {
      const starting = demo ? demoAlmanac() : startingAlmanac(placeHere())
      const shop = await OpenShop.open(file.value, { ...this.#options, starting, forecast: forecastOf })
      if (demo && file.value.opened === 'new') await fillDemoShop(shop)
      this.#shop = shop
      this.#lookSoon = setTimeout(() => void this.#lookBehind(file.value), FIRST_SCREEN_MS)
      return null
    } catch (fault) {
      await file.value.close()
      throw fault
    }
  }

  /** A file that turns out to be damaged is worked on no longer: the page with the copies comes in its place. */
  async #lookBehind(file: ShopFile, depth?: 'whole'): Promise<void> {
    const state = (): string => JSON.stringify([this.#trouble, file.warnings()])
    const before = state()
    try {
      const found = await file.lookBehind(depth)
      if (found === null || this.#shop?.file !== file) return
      await this.#exchanges.take(async () => {
        // Another file may have taken its place while this waited.
        if (this.#shop?.file !== file) return
        this.#trouble = found
        await this.#closeShop()
      })
    } catch (fault) {
      console.error('Fault while looking through the file:', fault)
    } finally {
      // Of a file that is whole there is nothing to ask again.
      if (state() !== before) this.#options.tell({ kind: 'changed' })
    }
  }

  async #closeShop(): Promise<void> {
    clearTimeout(this.#lookSoon)
    const shop = this.#shop
    this.#shop = null
    await shop?.close()
  }

  readonly safekeeping: Safekeeping = {
    list: () => {
      try {
        return listBackups(this.#path).map(backupRow)
      } catch {
        // The page that lists them also says what is wrong with the disk.
        return []
      }
    },
    make: async () => {
      if (this.#shop === null) return notOpen
      const made = await this.#shop.file.backUp('by-hand')
      if (made.ok) await this.copies.keepUp()
      return made.ok ? ok(backupRow(made.value)) : made
    },
    lackingIn: (name) => {
      const copy = copiesOf(this.#path).find((one) => one.name === name)
      return this.#lackingIn(copy === undefined ? copyMissing : ok(copy))
    },
    lackingElsewhere: (name) => this.#lackingIn(this.copies.find(name)),
    open: (name) => this.#exchange(() => this.#openInstead(readyCopy(this.#path, name))),
    openElsewhere: (name) =>
      this.#exchange(async () => {
        const copy = this.copies.find(name)
        if (!copy.ok) return copy
        return this.#lock === null
          ? failed(this.#trouble ?? notOpenYet)
          : this.#openInstead(readyFile(this.#path, copy.value))
      }),
    copyElsewhere: async () => {
      if (this.#shop !== null && namedBackups(this.#path).length === 0) await this.#shop.file.backUp('by-hand')
      await this.copies.keepUp()
      this.#options.tell({ kind: 'changed' })
    },
    rescue: async () => {
      if (this.#shop !== null) return failed(problem('still-open', 'The order book is open: nothing to rescue.'))
      if (this.#lock === null) return failed(this.#trouble ?? notOpenYet)
      try {
        return await this.#rescue.look()
      } catch (fault) {
        return failed(storeProblem(fault) ?? openingProblem(fault, this.#options.dataFolder))
      }
    },
    openRescued: () =>
      this.#exchange(async () =>
        this.#shop === null && this.#lock !== null
          ? this.#openInstead(this.#rescue.ready())
          : failed(problem('still-open', 'The order book is open: nothing to rescue.')),
      ),
    tryAgain: () =>
      this.#exchange(async () => {
        if (this.#shop === null) await this.open()
        return this.#trouble === null ? ok(null) : failed(this.#trouble)
      }),
    beginAnew: () =>
      this.#exchange(async () => {
        if (this.#shop !== null) return failed(problem('still-open', 'The order book is open: nothing to begin anew.'))
        if (this.#lock === null) return failed(this.#trouble ?? notOpenYet)
        moveAside(this.#path, this.#options.clock.nowMs())
        await this.open(true)
        return this.#trouble === null ? ok(null) : failed(this.#trouble)
      }),
    showFolder: () => showFolder(this.#options.dataFolder),
    takePart: (part) => {
      this.#arriving.take(part)
      return ok(null)
    },
    lookIn: (id, parts) =>
      this.#inTurn(async () => {
        if (this.#lock === null) return failed(this.#trouble ?? notOpenYet)
        const made = await this.#arriving.make(id, parts)
        if (!made.ok) return made
        return this.#shop === null ? ok(null) : this.#lackingIn(made)
      }),
    bringIn: (id) =>
      this.#exchange(async () => {
        if (this.#lock === null) return failed(this.#trouble ?? notOpenYet)
        const arrived = this.#arriving.file(id)
        if (!arrived.ok) return arrived
        try {
          return await this.#openInstead(readyFile(this.#path, arrived.value))
        } finally {
          this.#arriving.discard()
        }
      }),
    leaveOut: () =>
      this.#inTurn(async () => {
        if (this.#lock !== null) this.#arriving.discard()
        return ok(null)
      }),
  }

  async #lackingIn(copy: Result<{ readonly path: string }>): Promise<Result<Lacking>> {
    if (this.#shop === null) return notOpen
    return copy.ok ? ok(await whatCopyLacks(this.#shop.db, copy.value.path)) : copy
  }

  /** Opens a copy in place of the present book. Whoever that one had erased is noted in the copy, where they may be back. */
  async #openInstead(ready: Result<ReadyCopy>): Promise<Result<unknown>> {
    if (!ready.ok) return ready
    const erased = this.#shop === null ? this.#erasedInFiles() : await erasedCustomers(this.#shop.db)
    await this.#closeShop()
    const nowMs = this.#options.clock.nowMs()
    const done = ready.value.putInPlace(nowMs)
    await this.open()
    if (this.#shop !== null) await noteErased(this.#shop.db, erased, nowMs)
    return done
  }

  /** Of a book that cannot be opened: whatever it and its copies still say. */
  #erasedInFiles(): readonly string[] {
    const files = [this.#path, ...copiesOf(this.#path).map(({ path }) => path)]
    return [...new Set(files.flatMap(erasedIn))]
  }

  async #exchange(work: () => Promise<Result<unknown>>): Promise<Result<null>> {
    const done = await this.#inTurn(work)
    this.#options.tell({ kind: 'changed' })
    return done.ok ? ok(null) : done
  }

  /** What goes wrong with the disk or the file is told as a problem. */
  async #inTurn<T>(work: () => Promise<Result<T>>): Promise<Result<T>> {
    try {
      return await this.#exchanges.take(work)
    } catch (fault) {
      return failed(storeProblem(fault) ?? openingProblem(fault, this.#options.dataFolder))
    }
  }
}

const copyMissing = failed(problem('backup-missing', 'This copy is not there any more.'))

const notOpenYet = problem('not-open', 'The data file is not open.')
