import { failed, ok, problem, within, type Problem, type Result } from '../problems.ts'

export function requiredName(text: string, missing: string, problems: Problem[]): string {
  const name = text.trim()
  if (name === '') problems.push(problem('name-missing', missing, 'name'))
  return name
}

export function refuseTwice(
  things: readonly { readonly id: string; readonly name: string }[],
  id: string,
  name: string,
  problems: Problem[],
): void {
  const same = things.some((one) => one.id !== id && one.name.toLowerCase() === name.toLowerCase())
  if (same && name !== '')
    problems.push(problem('name-twice', `There is a “${name}” already: use another name.`, 'name'))
}

/** A new thing is known by its name in small letters and a number where that is taken. */
export function idOf(id: string, name: string, things: readonly { readonly id: string }[]): string {
  if (id !== '') return id
  const base =
    name
      .toLowerCase()
      .normalize('NFD')
      .replaceAll(/\p{M}/gu, '')
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-|-$/g, '') || 'new'
  for (let number = 1; ; number += 1) {
    const candidate = number === 1 ? base : `${base}-${number}`
    if (!things.some((one) => one.id === candidate)) return candidate
  }
}

export function take<T>(read: Result<T>, field: string, problems: Problem[]): T | null {
  if (read.ok) return read.value
  problems.push(...read.problems.map((one) => within(field, one)))
  return null
}

export const unlessProblems = <T>(value: T, problems: readonly Problem[]): Result<T> =>
  problems.length > 0 ? failed(...problems) : ok(value)
