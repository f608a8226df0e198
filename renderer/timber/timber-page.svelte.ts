import type { BoardInput } from '../../core/timber/read-board.ts'

export type TimberPage = 'to-mill' | 'on-hand' | 'plan' | 'to-buy' | 'supplies'

/** What the Timber screen shows; kept while other screens are looked at. */
class TimberShown {
  page = $state<TimberPage>('to-mill')
  /** Orders that were only asked about are counted too. */
  askedAbout = $state(false)
  /** Boards that were bought from the list, to be put on hand next. */
  bought = $state.raw<{ readonly board: BoardInput; readonly count: string } | null>(null)

  putOnHand(board: BoardInput, count: number): void {
    this.bought = { board, count: String(count) }
    this.page = 'on-hand'
  }
}

export const timberShown = new TimberShown()
