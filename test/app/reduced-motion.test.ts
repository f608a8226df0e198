import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { screens } from '../../renderer/screens.ts'
import { test } from '../support/app.ts'
import { goTo } from './support/small-order.ts'

/**
 * What moves or changes by and by: for more than a hundredth of a second, delay and all, by its computed style or by an animation that
 * runs. The page is looked at as it is while something is worked out anew, which is where this app does such a thing at all.
 */
const moving = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    document.querySelector('main')?.setAttribute('aria-busy', 'true')
    document.querySelector('h1')?.classList.add('outdated')
    const longestS = (style: CSSStyleDeclaration, what: 'transition' | 'animation'): number => {
      const seconds = (of: 'duration' | 'delay'): number[] =>
        style
          .getPropertyValue(`${what}-${of}`)
          .split(',')
          .map((each) => parseFloat(each) * (each.trim().endsWith('ms') ? 0.001 : 1))
      const delays = seconds('delay')
      return Math.max(...seconds('duration').map((each, index) => each + (delays[index % delays.length] ?? 0)))
    }
    const found: string[] = document.getAnimations().map(() => 'an animation')
    for (const element of document.querySelectorAll('*'))
      for (const part of [null, '::before', '::after']) {
        const style = getComputedStyle(element, part)
        if (
          longestS(style, 'transition') > 0.01 ||
          (style.animationName !== 'none' && longestS(style, 'animation') > 0.01)
        )
          found.push(`${element.localName}${part ?? ''}`)
      }
    return found
  })

test('nothing moves on any screen where the system is set to less motion', async ({ openApp }) => {
  const app = await openApp()
  const { page } = app
  for (const { address, word } of screens) {
    await goTo(app, address)
    await page.getByRole('heading', { level: 1 }).waitFor()
    // With motion there are some, so that the look below can find them.
    await page.emulateMedia({ reducedMotion: 'no-preference' })
    expect(await moving(page), word).toEqual(expect.arrayContaining(['main', 'h1']))
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await expect.poll(() => moving(page), { message: word }).toEqual([])
  }
})
