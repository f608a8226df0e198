import { expect, test } from 'vitest'
import { countedTitle } from '../../../core/book/counted-title.ts'

test('a single piece goes by its title, several of them are counted', () => {
  expect(countedTitle({ title: 'Serving tray', count: 1 })).toBe('Serving tray')
  expect(countedTitle({ title: 'Serving tray', count: 6 })).toBe('6 × Serving tray')
})
