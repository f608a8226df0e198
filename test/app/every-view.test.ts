import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { everyView, walker } from '../support/every-view.ts'
import { notWhole, otherSystem, roughSizes, targetsTooSmall } from '../support/seen-and-pressed.ts'

/** A lane of Weeks on a phone or tablet: its slip and its words for those who hear it have the whole title. */
const SHORT_ON_A_PHONE = '.title[aria-hidden]'

/** Views that list parts or boards: a search that finds none there would find nothing wrong either. */
const HAS_ROUGH_SIZES = /^(timber|lumber-(on-hand|plan|to-buy)|order|closed)$/

/** What is still wrong once the page has had the time to draw itself anew in its new width. */
async function whatLasts(find: () => Promise<readonly string[]>): Promise<readonly string[]> {
  try {
    await expect.poll(find).toEqual([])
    return []
  } catch {
    return find()
  }
}

/** In parts, so that no test takes long. */
test.for([
  ['the screens', /^(?!almanac-|order|inquiry|closed|change|made|new-order-|lumber|customers|labels)/, 9],
  ['the pages of Lumber and New order', /^(lumber|new-order-|made)/, 5],
  ['the pages of orders and customers', /^(order|inquiry|closed|change|customers|labels)/, 8],
  ['the pages of the Almanac', /^almanac-/, 20],
] as const)(
  '%s are whole at every width, fit a thumb on a phone, keep to inches with rough sizes to 1/16, and are clean for axe',
  { timeout: 600_000 },
  async ([, names, least], { openApp }) => {
    const { page } = await openApp({ demo: true })
    await page.getByRole('heading').first().waitFor()
    const walk = walker(page)
    const wrong: string[] = []
    const views = (await everyView(page)).filter(({ name }) => names.test(name))
    expect(views.length).toBeGreaterThanOrEqual(least)
    for (const view of views) {
      await walk(view)
      wrong.push(...(await otherSystem(page)).map((what) => `${view.name}: ${what}`))
      const rough = await roughSizes(page, /^lumber-(on-hand|plan|to-buy)/.test(view.name))
      if (HAS_ROUGH_SIZES.test(view.name)) expect(rough, view.name).not.toEqual([])
      wrong.push(...rough.filter((size) => /\/64/.test(size)).map((size) => `${view.name}: rough to 1/64: ${size}`))
      for (const width of [1280, 390]) {
        await page.setViewportSize({ width, height: 844 })
        await page.emulateMedia({ colorScheme: width === 390 ? 'dark' : 'light' })
        const found = await whatLasts(async () => [
          ...(await notWhole(page, width === 390 ? SHORT_ON_A_PHONE : 'none')),
          ...(width === 390 ? await targetsTooSmall(page) : []),
          ...(await accessibilityProblems(page)),
        ])
        wrong.push(...found.map((what) => `${view.name}, ${width}: ${what}`))
      }
      // A window at 200 %, a tablet, a large screen; on the tablet more contrast is asked for.
      for (const width of [640, 820, 1920]) {
        await page.setViewportSize({ width, height: 844 })
        await page.emulateMedia({ contrast: width === 820 ? 'more' : 'no-preference' })
        const found = await whatLasts(async () => [
          ...(await notWhole(page, width < 1280 ? SHORT_ON_A_PHONE : 'none')),
          ...(width === 820 ? await accessibilityProblems(page) : []),
        ])
        wrong.push(...found.map((what) => `${view.name}, ${width}: ${what}`))
      }
      await page.setViewportSize({ width: 1280, height: 844 })
    }
    expect(wrong).toEqual([])
  },
)
