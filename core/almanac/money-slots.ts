import { readPrice, typeMoney } from '../money/money.ts'
import { readRate, writeRate } from '../money/rate.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import type { FactGroup, FactKind, Slot } from './fact.ts'
import { usualStep, type MoneyFacts } from './money-facts.ts'
import { readWhole } from './read-figures.ts'

/** Makes the slots of one group. */
export function slotsOf(almanac: Almanac, group: FactGroup) {
  const { money } = almanac
  const { currency } = almanac.shop
  const set = <Value>(read: Result<Value>, change: (value: Value) => Partial<MoneyFacts>): Result<Almanac> =>
    read.ok ? ok({ ...almanac, money: { ...money, ...change(read.value) } }) : read
  const slot = (
    key: string,
    label: string,
    kind: FactKind,
    {
      value,
      source,
      unit = '',
      choices = [],
    }: Pick<Slot, 'value' | 'source'> & Partial<Pick<Slot, 'unit' | 'choices'>>,
    change: Slot['change'],
  ): Slot => ({ key: `money.${key}`, group, about: '', label, kind, unit, value, source, choices, change })
  const named = <Value>(label: string, read: Result<Value>): Result<Value> =>
    read.ok ? read : failed(...read.problems.map((one) => ({ ...one, message: `${label}: ${one.message}` })))
  return {
    set,
    slot,
    /** An amount; empty: none yet. */
    amount: (name: keyof MoneyFacts, label: string, source: string, unit = ''): Slot => {
      const minor = money[name] as number | null
      return slot(
        name,
        label,
        'money',
        { value: minor === null ? '' : typeMoney(minor, currency), source, unit },
        (text) =>
          set(text.trim() === '' ? ok(null) : named(label, readPrice(text, currency)), (value) => ({ [name]: value })),
      )
    },
    /** An amount that is always there. */
    step: (name: keyof MoneyFacts, label: string, source: string): Slot =>
      slot(
        name,
        label,
        'money',
        { value: typeMoney((money[name] as number | null) ?? usualStep(currency), currency), source },
        (text) =>
          set(named(label, readPrice(text.trim() === '' ? '0' : text, currency)), (value) => ({ [name]: value })),
      ),
    share: (
      name: keyof MoneyFacts,
      label: string,
      source: string,
      options: { readonly most?: number; readonly canBeNone?: boolean } = {},
    ): Slot => {
      const rate = money[name] as number | null
      return slot(name, label, 'share', { value: rate === null ? '' : writeRate(rate), source }, (text) =>
        set(
          text.trim() === '' && options.canBeNone === true
            ? ok(null)
            : named(label, readRate(text, { most: options.most ?? 100 })),
          (value) => ({ [name]: value }),
        ),
      )
    },
    choice: (name: keyof MoneyFacts, label: string, source: string, choices: Slot['choices']): Slot =>
      slot(name, label, 'choice', { value: String(money[name]), source, choices }, (text) => {
        const chosen = choices.find(({ value }) => value === text)
        if (chosen === undefined) return failed(problem('choice', `${label}: choose one of the list.`))
        return set(ok(chosen.value), (value) => ({
          [name]: value === 'true' ? true : value === 'false' ? false : value,
        }))
      }),
    text: (name: keyof MoneyFacts, label: string, kind: 'text' | 'long-text', source: string): Slot =>
      slot(name, label, kind, { value: money[name] as string, source }, (text) =>
        set(readText(text, label), (value) => ({ [name]: value })),
      ),
    whole: (name: keyof MoneyFacts, label: string, unit: string, source: string, most: number): Slot =>
      slot(name, label, 'count', { value: String(money[name]), source, unit }, (text) =>
        set(readWhole(text, label, 1, most), (value) => ({ [name]: value })),
      ),
  }
}

const MOST_TEXT = 2_000

export const readText = (text: string, label: string): Result<string> =>
  text.length > MOST_TEXT ? failed(problem('too-long', `${label}: ${MOST_TEXT} letters at most.`)) : ok(text.trim())
