import type { ExamineElsewhere } from '../db/examine-file.ts'
import type { DeskEvent } from './desk-event.ts'
import type { OpenDoor } from './devices/door.ts'
import type { Reply } from './procedure.ts'
import type { SearchBudget } from './planner/search-plan.ts'

/**
 * The desk: everything the shop can do, behind one function. The shells (Electron window, browser mode, tests) carry
 * calls and events back and forth and know nothing of what they mean.
 */
export interface Desk {
  /** Runs one procedure of the table by name; never throws. */
  call(name: string, input: unknown): Promise<Reply<unknown>>
  /** Tells about changes and notices; returns the function that stops it. */
  onEvent(listener: (event: DeskEvent) => void): () => void
  /** Finishes what is being written, closes the data file, gives the data folder's lock back. */
  close(): Promise<void>
}

/**
 * The desk as the window's page reaches it. A reply comes as JSON: one string crosses the borders between processes
 * quickly, where a large reply that is copied value by value holds up the page for longer than a frame.
 */
export interface DeskByText extends Pick<Desk, 'onEvent'> {
  call(name: string, input: unknown): Promise<string>
}

/** What time it is, as milliseconds since the Unix epoch. An input, so that tests and the demo shop can set it. */
export interface WallClock {
  nowMs(): number
}

export interface DeskOptions {
  /** Which shell this is, in words that finish "The shop is open in ...": for whoever finds the folder taken. */
  readonly where: string
  /** Folder that holds the data file `shop.sqlite`, its `backups/` and the lock; made when missing. */
  readonly dataFolder: string
  readonly clock: WallClock
  /** Fill an empty data file with the invented demo shop. */
  readonly demo: boolean
  /** Adds the procedures that only tests may call (setting the clock). */
  readonly forTests: boolean
  /** How phones and tablets are let in, once the maker switches that on; absent: this shell lets none in. */
  readonly openDoor?: OpenDoor
  /** How a large file is looked through in a process of its own; absent: in one of Node. */
  readonly examineElsewhere?: ExamineElsewhere
  /** How long better dates are looked for after each change; null: only when asked to, as by default in tests. */
  readonly search?: SearchBudget | null
}
