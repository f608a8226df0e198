import type { Page } from 'playwright-core'

/** Lets calls of this name reach the desk and keeps their answers from the page until `letGo` is called. */
export async function holdAnswer(page: Page, name: string): Promise<{ readonly letGo: () => void }> {
  const going = Promise.withResolvers<void>()
  await page.route('**/call', async (route) => {
    if (route.request().postData()?.includes(`"${name}"`) !== true) return route.continue()
    // Not every computer knows names under localhost as a browser does: the address is asked, under the name.
    const url = new URL(route.request().url())
    const headers = { ...(await route.request().allHeaders()), host: url.host }
    url.hostname = '127.0.0.1'
    // The page may be left or closed meanwhile: nobody waits for the answer then.
    const response = await route.fetch({ url: url.href, headers }).catch(() => null)
    await going.promise
    if (response !== null) await route.fulfill({ response }).catch(() => undefined)
  })
  return { letGo: () => going.resolve() }
}
