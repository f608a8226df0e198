import type { AlmanacPage } from './pages.ts'

/** The page of the almanac that was last looked at; kept while other screens are open. */
class PageShown {
  page = $state<AlmanacPage>('shop')
}

export const pageShown = new PageShown()
