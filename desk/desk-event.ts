import type { BetterDates } from './shop-state.ts'

/** What the desk tells of by itself. */
export type DeskEvent =
  /** The book, the plan or the almanac changed: screens ask again for what they show. */
  | { readonly kind: 'changed' }
  /** The odds of the present plan are worked out; what moved since the last press, as sentences. */
  | { readonly kind: 'odds'; readonly moved: readonly string[] }
  /** How the search for better dates gets on; when it finds some, the plan has "changed" as well. */
  | { readonly kind: 'better-dates'; readonly betterDates: BetterDates }
  /** Something the maker can act on now: shown as a desktop notification by the shell, and as a line in the page. */
  | { readonly kind: 'notice'; readonly notice: Notice }

export interface Notice {
  readonly id: string
  readonly title: string
  readonly body: string
  /** Address of the screen to open, as the page's hash: `#/rack`. */
  readonly opens: string
}
