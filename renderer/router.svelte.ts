import { placeOf, type PagePlace } from './screens.ts'

/** Where the page is, by its address; a link or `goTo` changes it, and back and forward work as everywhere. */
class Router {
  place = $state.raw<PagePlace>(placeOf(location.hash))

  constructor() {
    addEventListener('hashchange', () => {
      this.place = placeOf(location.hash)
    })
  }

  goTo(address: string): void {
    location.hash = address
  }
}

export const router = new Router()
