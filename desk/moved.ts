/** What a press did; which chances moved because of it comes with the event `odds`. */
export interface Moved {
  readonly said: string
  /** Log entry that `undo` takes back; null: nothing to take back. */
  readonly entryId: number | null
}
