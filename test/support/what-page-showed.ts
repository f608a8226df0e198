import type { Page } from 'playwright-core'
import type { TestContext } from 'vitest'

/**
 * Says on the error stream what every open page shows of a test that failed, or is about to for what its page complained of: a failure on a machine that nobody sees says little
 * without it. It has to be called by the fixture that opened the pages, before it closes them: `onTestFailed` comes after
 * the teardown of all fixtures.
 */
export async function sayWhatPagesShowed(task: TestContext['task'], page: Page, complaints: readonly string[]) {
  if (task.result?.state !== 'fail' && complaints.length === 0) return
  for (const [index, each] of page.context().pages().entries())
    console.error(`What page ${index + 1} showed when "${task.name}" failed:\n${await shown(each)}`)
  console.error(`Complaints: ${complaints.length === 0 ? 'none' : complaints.join('\n')}`)
}

/** Reading may hang or fail where a page died, which must not take the place of the test's own failure. */
async function shown(page: Page): Promise<string> {
  const asLongAsItMayTake = new Promise<string>((resolve) =>
    setTimeout(() => resolve('nothing: the page does not answer'), 10_000).unref(),
  )
  return Promise.race([asLongAsItMayTake, page.evaluate(seen).catch((error: unknown) => `nothing: ${String(error)}`)])
}

/** Runs in the page. */
function seen(): string {
  const active = document.activeElement
  const tag = active?.outerHTML.slice(0, 300) ?? 'none'
  const shows = document.querySelector('main') ?? document.body
  return [
    `Address: ${location.hash === '' ? location.pathname : location.hash}`,
    `Active element: ${tag}`,
    `Dialogs: ${[...document.querySelectorAll('dialog[open]')].map((each) => (each as HTMLElement).innerText.slice(0, 600)).join(' | ') || 'none'}`,
    `Text of ${shows.tagName.toLowerCase()}:\n${shows.innerText.slice(0, 3_000)}`,
  ].join('\n')
}
