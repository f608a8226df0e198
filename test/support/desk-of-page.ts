import type { Page } from 'playwright-core'
import type { Client } from '../../desk/procedure.ts'
import type { TestProcedures } from '../../desk/procedures.ts'

/** The desk, asked from within a page of the app. */
export function deskOf(page: Page): Client<TestProcedures> {
  return new Proxy({} as Client<TestProcedures>, {
    get: (_, name) =>
      typeof name === 'string' && name !== 'then' ? (input: unknown = {}) => callFrom(page, name, input) : undefined,
  })
}

/** One call, made in the page by the way that the page itself uses. */
export const callFrom = (page: Page, name: string, input: unknown): Promise<unknown> =>
  page.evaluate(
    async ([name, input]) => {
      if (window.outOfClamps !== undefined) return JSON.parse(await window.outOfClamps.call(name, input)) as never
      const headers = { 'content-type': 'application/json' }
      const response = await fetch('/call', { method: 'POST', headers, body: JSON.stringify({ name, input }) })
      return (await response.json()) as never
    },
    [name, input] as const,
  )
