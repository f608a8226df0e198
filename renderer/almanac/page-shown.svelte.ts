import { almanacPages, type AlmanacPage } from './pages.ts'

const KEPT_AS = 'almanac page'

/** The page of the almanac that was last looked at; kept while other screens are open, and when the app's page is loaded anew. */
class PageShown {
  #page = $state<AlmanacPage>(
    almanacPages.find(({ id }) => id === sessionStorage.getItem(KEPT_AS))?.id ?? almanacPages[0].id,
  )

  get page(): AlmanacPage {
    return this.#page
  }

  set page(page: AlmanacPage) {
    this.#page = page
    sessionStorage.setItem(KEPT_AS, page)
  }
}

export const pageShown = new PageShown()
