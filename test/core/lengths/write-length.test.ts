import { describe, expect, it } from 'vitest'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { writeLength, writeRoughLength, writeSizes } from '../../../core/lengths/write-length.ts'

describe('a written length', () => {
  it.each([
    [18.75, '18 3/4"'],
    [18, '18"'],
    [0.75, '3/4"'],
    [0, '0"'],
    [3 / 64, '3/64"'],
    [17.999, '18"'],
    [2.25, '2 1/4"'],
  ])('%d in is %s', (size, expected) => {
    expect(writeLength(inches(size), 'inch')).toBe(expected)
  })

  it.each([
    [19 + 7 / 64, '19 1/8"'],
    [19.04, '19 1/16"'],
    [19, '19"'],
    [19.01, '19"'],
  ])('%d in, of which nobody wants 64ths, is %s', (size, expected) => {
    expect(writeRoughLength(inches(size), 'inch')).toBe(expected)
    expect(writeRoughLength(millimetres(485.5), 'millimetre')).toBe('486 mm')
  })

  it.each([
    [18.5, '1\' 6 1/2"'],
    [24, "2'"],
    [11.75, '11 3/4"'],
    [11.999, "1'"],
  ])('%d in with feet is %s', (size, expected) => {
    expect(writeLength(inches(size), 'inch', 'feet')).toBe(expected)
  })

  it.each([
    [476, '476 mm'],
    [47.6, '47.6 mm'],
    [0.04, '0 mm'],
    [1200.25, '1200.3 mm'],
  ])('%d mm is %s', (size, expected) => {
    expect(writeLength(millimetres(size), 'millimetre')).toBe(expected)
  })
})

it('sizes of one thing are joined, the metric unit once', () => {
  expect(writeSizes([inches(16), inches(12), inches(1.5)], 'inch')).toBe('16" x 12" x 1 1/2"')
  expect(writeSizes([millimetres(400), millimetres(300), millimetres(40)], 'millimetre')).toBe('400 x 300 x 40 mm')
})
