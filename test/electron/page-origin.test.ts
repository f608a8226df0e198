import { describe, expect, test } from 'vitest'
import { isDevelopment, isOwnPage, pageOrigin } from '../../electron/page-origin.ts'

describe('pages of the app', () => {
  test('come from its own scheme, in development from the server that was started for it', () => {
    const server = { ELECTRON_RENDERER_URL: 'http://localhost:5173/' }
    expect(pageOrigin(true, {})).toBe('app://shop')
    expect(pageOrigin(true, server)).toBe('http://localhost:5173')
    expect(pageOrigin(false, server)).toBe('app://shop')
  })

  test('come from a development server only where the app was started for it, and never once packaged', () => {
    expect(isDevelopment(false, {})).toBe(false)
    expect(isDevelopment(false, { ELECTRON_RENDERER_URL: 'http://localhost:5173' })).toBe(false)
    expect(isDevelopment(false, { OUT_OF_CLAMPS_DEVELOPMENT: 'yes' })).toBe(true)
    expect(isDevelopment(true, { OUT_OF_CLAMPS_DEVELOPMENT: 'yes' })).toBe(false)
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
