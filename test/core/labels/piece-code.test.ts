import fc from 'fast-check'
import jsQR from 'jsqr'
import encodeQR from 'qr'
import { describe, expect, test } from 'vitest'
import { pieceCode, readPieceCode } from '../../../core/labels/piece-code.ts'

describe('the code on a tag', () => {
  test('names order and piece, and is read again', () => {
    expect(pieceCode({ order: 12, piece: 1 })).toBe('out-of-clamps:12/1')
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 999_999_999 }), fc.integer({ min: 1, max: 999 }), (order, piece) => {
        expect(readPieceCode(pieceCode({ order, piece }))).toEqual({ order, piece })
      }),
    )
  })

  test.each([
    'https://example.org/12/1',
    'out-of-clamps:0/1',
    'out-of-clamps:12',
    'out-of-clamps:12/1/../x',
    '12/1',
    '',
  ])('%s names nothing', (text) => expect(readPieceCode(text)).toBeNull())

  test('is read by another library than the one that drew it', () => {
    const scale = 4
    const modules = encodeQR('out-of-clamps:1042/3', 'raw', { ecc: 'medium', border: 4 })
    const side = modules.length * scale
    const pixels = new Uint8ClampedArray(side * side * 4)
    for (let y = 0; y < side; y++)
      for (let x = 0; x < side; x++) {
        const dark = modules[Math.floor(y / scale)]?.[Math.floor(x / scale)] === true
        pixels.set([...Array<number>(3).fill(dark ? 0 : 255), 255], (y * side + x) * 4)
      }
    const read = typeof jsQR === 'function' ? jsQR : (jsQR as unknown as { default: typeof jsQR }).default
    expect(read(pixels, side, side)?.data).toBe('out-of-clamps:1042/3')
  })
})
