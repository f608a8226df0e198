import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'

const css = readFileSync(join(import.meta.dirname, '../../renderer/tokens.css'), 'utf8')

/** Colors by name; what one look does not say is as in the light one. */
function colorsOf(start: string): ReadonlyMap<string, string> {
  const from = css.indexOf(start)
  const block = css.slice(from, css.indexOf('}', from))
  return new Map(
    [...block.matchAll(/--([a-z-]+): (#[0-9a-f]{3,6});/g)].map(([, name = '', value = '']) => [name, value]),
  )
}

/** Relative luminance, 0..1. @source WCAG 2.2, definition of relative luminance */
function luminance(color: string): number {
  const hex = color.length === 4 ? color.slice(1).replaceAll(/./g, '$&$&') : color.slice(1)
  const [r = 0, g = 0, b = 0] = [0, 2, 4].map((at) => {
    const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

/** @source WCAG 2.2, definition of contrast ratio */
function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b)
  return (light + 0.05) / (dark + 0.05)
}

test('contrast is reckoned as WCAG has it: black on white 21, #767676 on white 4.54', () => {
  expect(contrast('#000', '#fff')).toBeCloseTo(21, 5)
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2)
})

const light = colorsOf(':root {\n  color-scheme: light dark')
const dark = colorsOf('@media (prefers-color-scheme: dark)')

describe.each([
  ['light', light],
  ['dark', dark],
])('in the %s look', (_, colors) => {
  const of = (name: string): string => {
    const color = colors.get(name) ?? light.get(name)
    if (color === undefined) throw new Error(`no color ${name}`)
    return color
  }
  const grounds = ['paper', 'paper-raised', 'paper-sunk', 'chalk-wash', 'kraft', 'night']

  test.each(grounds)('text has 7:1 on %s', (ground) => {
    expect(contrast(of('ink'), of(ground))).toBeGreaterThanOrEqual(7)
  })
  test.each(['paper', 'paper-raised', 'paper-sunk'])('soft text has 7:1 on %s', (ground) => {
    expect(contrast(of('ink-soft'), of(ground))).toBeGreaterThanOrEqual(7)
  })
  test('text on ink has 7:1', () => {
    expect(contrast(of('on-ink'), of('ink'))).toBeGreaterThanOrEqual(7)
    expect(contrast(of('on-ink'), of('ink-press'))).toBeGreaterThanOrEqual(7)
  })
  test.each(['chalk', 'danger', 'field-edge', 'steel-mark'])('marks of %s have 3:1 wherever they are drawn', (mark) => {
    for (const ground of mark === 'steel-mark' ? ['steel'] : ['paper', 'paper-raised', 'paper-sunk'])
      expect(contrast(of(mark), of(ground)), ground).toBeGreaterThanOrEqual(3)
  })
  test('a wait is told from what lies behind it by its hatching', () => {
    for (const ground of ['hatch-ground', 'paper-raised', 'night'])
      expect(contrast(of('hatch'), of(ground)), ground).toBeGreaterThanOrEqual(3)
  })
  test('danger is told from every other mark', () => {
    expect(of('danger')).not.toBe(of('chalk'))
  })
})
