import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect } from 'vitest'
import { test } from '../../support/app.ts'
import { callFrom } from '../../support/desk-of-page.ts'

/** What a breach of the content policy is called, whatever text the engine writes for it. */
const breaches = (page: Page): Promise<string[]> =>
  page.evaluate(() => (window as unknown as { breaches: string[] }).breaches)

const noteBreaches = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const noted: string[] = ((window as unknown as { breaches: string[] }).breaches = [])
    document.addEventListener('securitypolicyviolation', (event) => noted.push(event.effectiveDirective))
  })

describe('what a page of the app cannot do', () => {
  let elsewhere = ''
  let asked: string[] = []
  const stranger = createServer((request, response) => {
    asked.push(request.url ?? '')
    response.setHeader('access-control-allow-origin', '*').end('hello')
  })
  beforeAll(async () => {
    await new Promise<void>((resolve) => stranger.listen(0, '127.0.0.1', resolve))
    elsewhere = `http://127.0.0.1:${(stranger.address() as AddressInfo).port}`
  })
  afterAll(() => void stranger.close())

  test('run a script that stands in the page itself', async ({ app: { page, complaints } }) => {
    await noteBreaches(page)
    const ran = await page.evaluate(async () => {
      const attempts = [
        () => {
          const script = document.createElement('script')
          script.append('window.ran = true')
          document.head.append(script)
        },
        () => {
          const image = document.createElement('img')
          image.setAttribute('onerror', 'window.ran = true')
          image.src = '/no-such-image.png'
          document.body.append(image)
        },
        () =>
          document.body.append(new DOMParser().parseFromString('<script>window.ran = true</script>', 'text/html').body),
      ]
      for (const attempt of attempts) {
        try {
          attempt()
        } catch {
          // Trusted types refuse some before the policy has to.
        }
      }
      await new Promise((resolve) => setTimeout(resolve, 200))
      return 'ran' in window
    })
    expect(ran).toBe(false)
    await expect.poll(async () => (await breaches(page)).length).toBeGreaterThan(0)
    await expect.poll(() => complaints.splice(0).length).toBeGreaterThan(0)
  })

  test('make a program out of text', async ({ app: { page, complaints } }) => {
    await noteBreaches(page)
    // From a timer, as what the test itself evaluates is not held to the page's policy.
    const ran = await page.evaluate(
      () =>
        new Promise((resolve) =>
          setTimeout(() => {
            try {
              // eslint-disable-next-line no-new-func -- the very thing to be refused
              new Function('window.ran = true')()
            } catch {
              // Refused.
            }
            resolve('ran' in window)
          }),
        ),
    )
    expect(ran).toBe(false)
    await expect.poll(async () => (await breaches(page)).length).toBeGreaterThan(0)
    complaints.splice(0)
  })

  test('ask another server for anything', async ({ app: { page, complaints } }) => {
    await noteBreaches(page)
    asked = []
    const answers = await page.evaluate(async (elsewhere) => {
      const image = new Image()
      image.src = `${elsewhere}/image.png`
      const frame = document.createElement('iframe')
      frame.src = `${elsewhere}/frame`
      const style = document.createElement('link')
      style.rel = 'stylesheet'
      style.href = `${elsewhere}/style.css`
      document.body.append(image, frame, style)
      const fetched = await fetch(`${elsewhere}/fetch`).then(
        () => 'answered',
        () => 'refused',
      )
      await new Promise((resolve) => setTimeout(resolve, 300))
      return { fetched }
    }, elsewhere)
    expect(answers.fetched).toBe('refused')
    expect(asked).toEqual([])
    await expect
      .poll(async () => new Set(await breaches(page)))
      .toEqual(new Set(['img-src', 'frame-src', 'style-src-elem', 'connect-src']))
    complaints.splice(0)
  })

  test('turn text into markup that carries a script', async ({ app: { page, complaints } }) => {
    const refused = await page.evaluate(() => {
      try {
        document.body.innerHTML = '<img src=x onerror="window.ran = true">'
        return false
      } catch {
        return true
      }
    })
    expect(refused).toBe(true)
    complaints.splice(0)
  })

  test('reach what Node or Electron have', async ({ app: { page } }) => {
    const found = await page.evaluate(() =>
      ['require', 'process', 'module', 'Buffer', 'global', '__dirname', 'electron', 'ipcRenderer'].filter(
        (name) => name in window,
      ),
    )
    expect(found).toEqual([])
  })

  test('ask for something that is no procedure, even one that every object has', async ({ app: { page } }) => {
    for (const name of ['constructor', '__proto__', 'toString', 'noSuchThing']) {
      expect(await callFrom(page, name, {}), name).toMatchObject({
        ok: false,
        problems: [{ code: 'unknown-procedure' }],
      })
    }
  })

  test('hand over an input of the wrong form', async ({ app: { page } }) => {
    expect(await callFrom(page, 'testSetClock', { now: 7 })).toMatchObject({ ok: false, problems: [{ field: 'now' }] })
    expect(await callFrom(page, 'testSetClock', 'soon')).toMatchObject({ ok: false, problems: [{ code: 'bad-input' }] })
  })
})
