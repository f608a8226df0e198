import { beforeEach, vi } from 'vitest'

// Ids are drawn, and the luck of odds goes by ids: a figure at the edge of what a test expects would fail it once in a hundred runs. Here
// they are counted within each test, so that every run has the same luck.
const counted = vi.hoisted(() => {
  const holder = globalThis as { countedIds?: { last: number } }
  return (holder.countedIds ??= { last: 0 })
})

vi.mock('node:crypto', async (importOriginal) => {
  const real = await importOriginal<typeof import('node:crypto')>()
  const randomUUID = (): string => `00000000-0000-4000-8000-${String(++counted.last).padStart(12, '0')}`
  return { ...real, randomUUID, default: { ...real, randomUUID } }
})

beforeEach(() => {
  counted.last = 0
})
