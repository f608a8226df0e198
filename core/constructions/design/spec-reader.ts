import { readLength } from '../../lengths/read-length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { failed, ok, problem, type Problem, type Result } from '../../problems.ts'
import type { Field, SpecInput, SpecValue, Units } from '../construction.ts'
import type { ShopFacts } from '../shop-facts.ts'

/**
 * Reads one form field by field and remembers what was wrong with each, so that the maker is told everything at once. A field
 * that cannot be read gives a stand-in value; `result` then refuses the whole.
 */
export interface SpecReader {
  length(key: string): number
  count(key: string): number
  /** Null where an optional count is left empty. */
  optionalCount(key: string): number | null
  yes(key: string): boolean
  choice<Choice extends string>(key: string): Choice
  text(key: string): string
  wood(key: string): string
  glue(key: string): string
  finish(key: string): string
  rows(key: string): readonly SpecReader[]
  refuse(code: string, message: string, key: string): void
  result<Spec>(spec: Spec): Result<Spec>
}

export function specReader(
  fields: readonly Field[],
  input: SpecInput,
  units: Units,
  facts: ShopFacts,
  prefix = '',
  problems: Problem[] = [],
): SpecReader {
  const named = (key: string): Field => {
    const field = fields.find((one) => one.key === key)
    if (field === undefined) throw new Error(`no field ${key}`)
    return field
  }
  const typed = (key: string): string => {
    const value = input[key]
    return typeof value === 'string' ? value.trim() : ''
  }
  const refuse = (code: string, message: string, key: string): void => {
    problems.push(problem(code, message, `${prefix}${key}`))
  }
  const oneOf = (
    key: string,
    kind: string,
    known: readonly { readonly id: string; readonly name: string }[],
  ): string => {
    const id = typed(key)
    if (known.some((one) => one.id === id)) return id
    const { label } = named(key)
    refuse(
      `${kind}-unknown`,
      id === ''
        ? `${label}: choose one.`
        : `${label}: the almanac has no ${kind} “${id}”: choose one, or add it there.`,
      key,
    )
    return ''
  }

  const reader: SpecReader = {
    length(key) {
      const field = named(key)
      if (field.kind !== 'length') throw new Error(`${key} is no length`)
      const read = readLength(typed(key), units)
      if (!read.ok) {
        for (const one of read.problems) refuse(one.code, `${field.label}: ${one.message}`, key)
        return NaN
      }
      const size = writeLength(read.value, units)
      if (read.value < field.leastNm) {
        refuse(
          'length-too-small',
          `${field.label}: ${size} is too small, it takes at least ${writeLength(field.leastNm, units)}.`,
          key,
        )
      } else if (read.value > field.mostNm) {
        refuse(
          'length-too-big',
          `${field.label}: ${size} is too big, at most ${writeLength(field.mostNm, units)}. Check the unit.`,
          key,
        )
      }
      return read.value
    },
    count(key) {
      const count = reader.optionalCount(key)
      if (count !== null) return count
      refuse('count-missing', `${named(key).label}: type a whole number.`, key)
      return NaN
    },
    optionalCount(key) {
      const field = named(key)
      if (field.kind !== 'count') throw new Error(`${key} is no count`)
      const text = typed(key)
      if (text === '') return null
      if (!/^\d{1,6}$/.test(text)) {
        refuse('count-unreadable', `${field.label}: “${text}” is not a whole number like 2.`, key)
        return NaN
      }
      const count = Number(text)
      if (count < field.least || count > field.most) {
        refuse('count-out-of-range', `${field.label}: ${count} does not work, ${field.least} to ${field.most} do.`, key)
      }
      return count
    },
    yes: (key) => input[key] === true,
    choice<Choice extends string>(key: string): Choice {
      const field = named(key)
      if (field.kind !== 'choice') throw new Error(`${key} is no choice`)
      const value = field.formerly?.[typed(key)] ?? typed(key)
      if (field.choices.some((one) => one.value === value)) return value as Choice
      refuse('choice-unknown', `${field.label}: choose ${listed(field.choices.map((one) => one.label))}.`, key)
      return (field.choices[0]?.value ?? '') as Choice
    },
    text: typed,
    wood: (key) => oneOf(key, 'wood', facts.woods),
    glue: (key) => oneOf(key, 'glue', facts.glues),
    finish: (key) => oneOf(key, 'finish', facts.finishes),
    rows(key) {
      const field = named(key)
      if (field.kind !== 'rows') throw new Error(`${key} has no rows`)
      return rowsOf(input[key]).map((row, index) =>
        specReader(field.columns, row, units, facts, `${prefix}${key}.${index}.`, problems),
      )
    },
    refuse,
    result: (spec) => (problems.length > 0 ? failed(...problems) : ok(spec)),
  }
  return reader
}

const rowsOf = (value: SpecValue | undefined): readonly SpecInput[] =>
  value === undefined || typeof value === 'string' || typeof value === 'boolean' ? [] : value

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1) ?? ''}`
