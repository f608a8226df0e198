import type { AlmanacFact } from '../../core/almanac/fact.ts'

/** Whether the maker has said otherwise than a new shop has it. A shop's name is its own: there is no going back from it. */
export const isChanged = (fact: Pick<AlmanacFact, 'key' | 'value' | 'default'>): boolean =>
  fact.key !== 'shop.name' && fact.default !== null && fact.default !== fact.value

/** What to type so that the default is back: a clock of a glue or finish goes back to its class when its label says nothing. */
export const backToDefault = (fact: Pick<AlmanacFact, 'kind' | 'default'>): string =>
  fact.kind === 'range' ? '' : (fact.default ?? '')
