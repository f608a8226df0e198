import { describe, expect, test } from 'vitest'
import { isOwnPage, pageOrigin } from '../../electron/page-origin.ts'

describe('pages of the app', () => {
  test('come from its own scheme, in development from the server that was started for it', () => {
    expect(pageOrigin(false, {})).toBe('app://shop')
    expect(pageOrigin(false, { ELECTRON_RENDERER_URL: 'http://localhost:5173/' })).toBe('http://localhost:5173')
    expect(pageOrigin(true, { ELECTRON_RENDERER_URL: 'http://localhost:5173' })).toBe('app://shop')
  })

  test.each(['app://shop/', 'app://shop/index.html#/rack'])('are told by scheme and host: %s', (address) => {
    expect(isOwnPage(address, 'app://shop')).toBe(true)
  })

  test.each([
    'app://shop.example/',
    'app://elsewhere/',
    'https://shop/',
    'file:///shop',
    'data:text/html,x',
    'about:blank',
    '',
  ])('are not to be confused with %s', (address) => {
    expect(isOwnPage(address, 'app://shop')).toBe(false)
  })
})
