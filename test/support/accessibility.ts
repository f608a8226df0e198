import axe from 'axe-core'
import type { Page } from 'playwright-core'

/**
 * What axe finds wrong with the page as it stands, as sentences; an empty list is what a test expects.
 * @source WCAG 2.2 levels A and AA with axe-core's best practices
 */
export async function accessibilityProblems(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const { violations } = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run(document))
  return violations.flatMap(({ id, help, nodes }) => nodes.map(({ html }) => `${id}: ${help}: ${html}`))
}
