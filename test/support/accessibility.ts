import axe from 'axe-core'
import type { Page } from 'playwright-core'

/**
 * What axe finds wrong with the page as it stands, as sentences; an empty list is what a test expects.
 * @source WCAG 2.2 levels A and AA with axe-core's best practices
 */
export async function accessibilityProblems(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source)
  return page.evaluate(async () => {
    const here = (window as unknown as { axe: typeof axe }).axe
    // Only what is wrong is told in full: what is right is most of it, and would take longer than the search.
    const { violations } = await here.run(document, { resultTypes: ['violations'] })
    return violations.flatMap(({ id, help, nodes }) => nodes.map(({ html }) => `${id}: ${help}: ${html}`))
  })
}
