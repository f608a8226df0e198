import type { Field, SpecInput } from './construction.ts'

/** The fields that a form asks as it is filled in: a field that hangs on one that is not asked is not asked either. */
export function askedFields(fields: readonly Field[], input: SpecInput): readonly Field[] {
  const asked = new Set<string>()
  return fields.filter(({ key, when }) => {
    const value = when === undefined ? undefined : input[when.key]
    const applies =
      when === undefined ||
      (asked.has(when.key) && (typeof value === 'string' || typeof value === 'boolean') && when.is.includes(value))
    if (applies) asked.add(key)
    return applies
  })
}

/** Whether something that is folded away has been changed, so that it must be seen. */
export const extrasInUse = (asked: readonly Field[], input: SpecInput, starting: SpecInput): boolean =>
  asked.some(({ key, extra }) => extra === true && input[key] !== undefined && !same(input[key], starting[key]))

const same = (one: SpecInput[string], other: SpecInput[string] | undefined): boolean =>
  one === other || JSON.stringify(one) === JSON.stringify(other)
