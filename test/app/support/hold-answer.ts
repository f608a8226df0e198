import type { Page } from 'playwright-core'

/** Lets calls of this name reach the desk and keeps their answers from the page until `letGo` is called. */
export async function holdAnswer(page: Page, name: string): Promise<{ readonly letGo: () => void }> {
  const going = Promise.withResolvers<void>()
  await page.route('**/call', async (route) => {
    if (route.request().postData()?.includes(`"${name}"`) !== true) return route.continue()
    const response = await route.fetch()
    await going.promise
    // The page may have been left meanwhile: nobody waits for the answer then.
    return route.fulfill({ response }).catch(() => undefined)
  })
  return { letGo: () => going.resolve() }
}
