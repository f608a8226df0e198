import { isOnDevice } from './post-call.ts'

const KEPT_AS = 'notices-put-away'

function read(): readonly string[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT_AS) ?? '[]')
    return Array.isArray(kept) ? kept.filter((id) => typeof id === 'string') : []
  } catch {
    return []
  }
}

const write = (ids: readonly string[]): void => {
  if (isOnDevice) localStorage.setItem(KEPT_AS, JSON.stringify(ids))
}

/** Notices that were closed on this phone or tablet, which is told them again each time it comes back. The desk tells its own page once. */
export const putAway = {
  has: (id: string): boolean => read().includes(id),
  add: (id: string): void => write([...read(), id]),
  /** It is told anew. */
  forget: (id: string): void => write(read().filter((kept) => kept !== id)),
  /** What is due no more need not be remembered. */
  keepOnly: (due: { has(id: string): boolean }): void => write(read().filter((id) => due.has(id))),
}
