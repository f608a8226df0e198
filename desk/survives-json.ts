/**
 * Where a value would change on its way through JSON, as a path from the value (`value.pieces.0.due`), or undefined when
 * it arrives as it is. The window carries `Date`, `Map` and `bigint`, the browser does not: so neither may be sent. A
 * field that is undefined counts as absent, as it reads the same on both sides.
 */
export function lostInJson(value: unknown, path = ''): string | undefined {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return undefined
  if (typeof value === 'number') return Number.isFinite(value) ? undefined : path
  if (Array.isArray(value)) return firstLost([...value.entries()], path)
  if (!isPlainObject(value)) return path
  return firstLost(
    Object.entries(value).filter(([, inner]) => inner !== undefined),
    path,
  )
}

function firstLost(entries: readonly (readonly [string | number, unknown])[], path: string): string | undefined {
  for (const [key, inner] of entries) {
    const lost = lostInJson(inner, path === '' ? String(key) : `${path}.${key}`)
    if (lost !== undefined) return lost
  }
  return undefined
}

function isPlainObject(value: unknown): value is object {
  if (typeof value !== 'object' || value === null || 'toJSON' in value) return false
  const prototype: unknown = Object.getPrototypeOf(value)
  return prototype === Object.prototype || prototype === null
}
