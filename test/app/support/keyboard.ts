import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/** Name or words of what has the focus. */
export const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const at = document.activeElement
    if (!(at instanceof HTMLElement) || at === document.body) return ''
    if (at.id === 'page') return 'the page'
    const label = at.id === '' ? null : document.querySelector<HTMLElement>(`label[for="${at.id}"]`)
    return at.getAttribute('aria-label') ?? label?.innerText ?? (at.innerText || (at.closest('label')?.innerText ?? ''))
  })

/** Presses Tab until what is named has the focus. @returns how often */
export async function tabTo(page: Page, name: RegExp, most: number): Promise<number> {
  for (let tabs = 0; tabs <= most; tabs += 1) {
    if (name.test(await focused(page))) return tabs
    await page.keyboard.press('Tab')
  }
  throw new Error(`${String(name)} is more than ${most} Tabs away; the focus is on “${await focused(page)}”.`)
}

export const hasFocus = (page: Page, name: RegExp) => expect.poll(() => focused(page)).toMatch(name)
