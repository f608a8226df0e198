/** How long a search may go on. Whichever runs out first ends it; a search also ends by itself when its result is proved best. */
export interface SearchBudget {
  /** Complete start-time assignments that may be generated; each pass of a forward-backward improvement is one. */
  readonly schedules: number
  /** Asked from time to time; false ends the search. With it a result may depend on the speed of the machine. */
  readonly goOn?: () => boolean
}
