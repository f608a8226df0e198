import type { Page } from 'playwright-core'

/**
 * What can be pressed within `main` and answers over less than 44 by 44 px, as sentences. A link in a sentence may be as high as its line.
 * @source WCAG 2.2, 2.5.5 target size (enhanced) with its inline exception
 */
export const targetsTooSmall = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const least = 43.5
    const small: string[] = []
    for (const each of document.querySelectorAll<HTMLElement>(
      'main :is(a[href], button, input, select, textarea, summary)',
    )) {
      if (!each.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue
      const isInSentence = each.matches('a') && [...(each.parentElement?.childNodes ?? [])].some(isWords)
      const label = each.closest('label') ?? (each.id === '' ? null : document.querySelector(`label[for="${each.id}"]`))
      const isTicked = each.matches('input[type=checkbox], input[type=radio]')
      const { width, height } = (isTicked && label !== null ? label : each).getBoundingClientRect()
      if (width < 2 || isInSentence || (width >= least && height >= least)) continue
      const says = each.getAttribute('aria-label') ?? each.innerText
      small.push(`${each.tagName} ${Math.round(width)} x ${Math.round(height)}: ${says.slice(0, 60)}`)
    }
    return [...new Set(small)]

    function isWords(node: Node): boolean {
      return node.nodeType === Node.TEXT_NODE && /\w{3}/.test(node.textContent ?? '')
    }
  })

/**
 * Words that end in the middle because their box is too small, and boxes that must be moved sideways to be read.
 * @param but selector of what is whole elsewhere on the screen
 */
export const notWhole = (page: Page, but: string): Promise<string[]> =>
  page.evaluate((but) => {
    const found: string[] = []
    for (const each of document.querySelectorAll<HTMLElement>(`html, main, main *:not(${but})`)) {
      const { overflowX, clipPath, webkitLineClamp } = getComputedStyle(each)
      if (each.clientWidth < 2 || clipPath !== 'none' || !each.checkVisibility()) continue
      const scrolls = overflowX === 'auto' || overflowX === 'scroll' || each.tagName === 'HTML'
      const cuts = overflowX === 'hidden' || overflowX === 'clip' || each.matches('input:not([type=search])')
      const isTooWide = (scrolls || cuts) && each.scrollWidth > each.clientWidth + 1
      const isTooHigh = webkitLineClamp !== 'none' && each.scrollHeight > each.clientHeight + 8
      if (!isTooWide && !isTooHigh) continue
      const words = each.matches('input') ? (each as HTMLInputElement).value : each.innerText
      if (/\w/.test(words))
        found.push(`${scrolls ? 'scrolls sideways' : 'is cut off'}: ${each.className}: ${words.slice(0, 80)}`)
    }
    return found
  }, but)

/** Every size of rough wood on the page: columns of what is cut to; everything where a page speaks of boards alone. */
export const roughSizes = (page: Page, allIsRough: boolean): Promise<string[]> =>
  page.evaluate((allIsRough) => {
    const main = document.querySelector('main')
    if (allIsRough) return (main?.textContent ?? '').match(/\d[\d /]*"/g) ?? []
    return [...(main?.querySelectorAll('table') ?? [])].flatMap((table) => {
      const heads = [...table.querySelectorAll('thead th')]
      const column = heads.findIndex((head) => /^\s*(Rough|Cut to)/.test(head.textContent ?? ''))
      if (column === -1) return []
      return [...table.querySelectorAll('tbody tr')].flatMap(
        ({ children }) => children[column]?.textContent?.trim() || [],
      )
    })
  }, allIsRough)

/** Sentences of the page, what is folded away included, that name a measure of the other system in a shop of inches. */
export const otherSystem = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const lines = (document.querySelector('main')?.textContent ?? '').split(/(?<=[.!?;])\s+|\n/)
    const other = lines.filter((line) => /\d mm\b|\d ?°C/.test(line))
    return [...new Set(other)].map((line) => `the other system: ${line.trim().slice(0, 120)}`)
  })
