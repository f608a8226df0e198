import type { Page, Request } from 'playwright-core'
import type { TestContext } from 'vitest'

declare module 'vitest' {
  interface TaskMeta {
    /** What the pages of a failed test showed: the report of the run has it, so that it can stand at the end of the account. */
    pagesShowed?: string
  }
}

/**
 * Says on the error stream and in the report what every open page shows of a test that failed, or is about to for what its page
 * complained of: a failure on a machine that nobody sees says little without it. It has to be called by the fixture that opened the
 * pages, before it closes them: `onTestFailed` comes after the teardown of all fixtures.
 */
export async function sayWhatPagesShowed(task: TestContext['task'], page: Page, complaints: readonly string[]) {
  if (task.result?.state !== 'fail' && complaints.length === 0) return
  const said: string[] = []
  for (const [index, each] of page.context().pages().entries())
    said.push(`What page ${index + 1} showed when "${task.name}" failed:\n${await shown(each)}`)
  said.push(`Complaints: ${complaints.length === 0 ? 'none' : complaints.join('\n')}`)
  said.push(`Last calls to the desk:\n${(calls.get(page) ?? []).slice(-LAST_CALLS).map(written).join('\n')}`)
  task.meta.pagesShowed = [task.meta.pagesShowed ?? [], said].flat().join('\n')
  console.error(said.join('\n'))
}

interface CallSeen {
  readonly request: Request
  readonly atMs: number
  /** Until its answer, or that there is none; null: still on its way. */
  lastedMs: number | null
  answer: string
}

const LAST_CALLS = 20
const calls = new WeakMap<Page, CallSeen[]>()

/** Remembers what the page asks of the desk over HTTP; a window asks by another way, of which nothing is seen. */
export function followCalls(page: Page): void {
  const seen: CallSeen[] = []
  calls.set(page, seen)
  page.on('request', (request) => {
    if (!request.url().endsWith('/call')) return
    seen.push({ request, atMs: performance.now(), lastedMs: null, answer: 'no answer yet' })
    if (seen.length > 4 * LAST_CALLS) seen.shift()
  })
  const ended = (request: Request, answer: string): void => {
    const call = seen.find((each) => each.request === request)
    if (call === undefined) return
    call.lastedMs = performance.now() - call.atMs
    call.answer = answer
  }
  page.on('requestfailed', (request) => ended(request, request.failure()?.errorText ?? 'failed'))
  page.on('requestfinished', (request) => {
    ended(request, 'answered')
    request
      .response()
      .then((response) => response?.text())
      .then((text) => ended(request, (text ?? '').slice(0, 200)))
      // The page may be gone by now.
      .catch(() => undefined)
  })
}

function written({ request, atMs, lastedMs, answer }: CallSeen): string {
  const ago = ((performance.now() - atMs) / 1000).toFixed(1)
  return `${ago} s ago: ${request.postData()?.slice(0, 200) ?? ''} -> ${lastedMs === null ? '' : `${lastedMs.toFixed(0)} ms: `}${answer}`
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
    `Text of ${shows.tagName.toLowerCase()}:\n${shows.innerText.slice(0, 6_000)}`,
  ].join('\n')
}
