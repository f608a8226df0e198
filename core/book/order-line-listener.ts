import type { LengthNm, LengthUnits } from '../lengths/length.ts'
import { readLength } from '../lengths/read-length.ts'
import { findSizes } from '../lengths/read-sizes.ts'
import { daysLater, type LocalDay } from '../time/local-day.ts'
import { findDay } from './spoken-day.ts'
import {
  BEFORE_STREET,
  type SpokenKind,
  NAME_IN_FRONT,
  NUMBER_WORDS,
  FAIR,
  OPTIONS,
  KINDS,
} from './order-line-forms.ts'

/** What the reader of a spoken order must know of the shop. */
export interface ShopWords {
  readonly today: LocalDay
  readonly units: LengthUnits
  readonly woods: readonly NamedThing[]
  readonly finishes: readonly NamedThing[]
  /** The maker's own constructions. */
  readonly own: readonly NamedThing[]
  /** Days on which the almanac has the shop at a fair. */
  readonly fairs: readonly LocalDay[]
}

export interface NamedThing {
  readonly id: string
  readonly name: string
}

/** Takes what it knows out of a text, piece by piece; what is left over is the rest. */
export class Listener {
  #text: string

  constructor(text: string) {
    this.#text = text
  }

  take(form: RegExp): RegExpExecArray | null {
    const found = form.exec(this.#text)
    if (found !== null) this.#cut(found.index, found.index + found[0].length)
    return found
  }

  takeDay(today: LocalDay): { readonly day: LocalDay; readonly feast: string | null } | null {
    const found = findDay(this.#text, today)
    if (found !== null) this.#cut(found.from, found.to)
    return found
  }

  /** The first fair from today on, where one is spoken of; before it: the day before. Without a fair the words stay. */
  takeFair({ today, fairs }: ShopWords): { readonly day: LocalDay; readonly feast: null } | null {
    const fair = fairs.filter((day) => day >= today).toSorted()[0]
    const found = fair === undefined ? null : this.take(FAIR)
    if (fair === undefined || found === null) return null
    return { day: /before/i.test(found[1] ?? '') ? daysLater(fair, -1) : fair, feast: null }
  }

  /** What each form finds, in the order in which it was said. */
  takeInOrder(forms: readonly RegExp[]): readonly string[] {
    const places = forms
      .map((form) => ({ form, at: form.exec(this.#text)?.index ?? -1 }))
      .filter(({ at }) => at >= 0)
      .toSorted((one, other) => one.at - other.at)
    return places.flatMap(({ form }) => this.take(form)?.[0] ?? [])
  }

  /** A number of this form that is more than `above`, or has cents. */
  takeAmount(form: RegExp, above: number): string | null {
    const said = form.exec(this.#text)?.[1]
    if (said === undefined || (!/[.,]\d{2}$/.test(said) && Number(said) <= above)) return null
    this.take(form)
    return said
  }

  takeLength(form: RegExp, units: LengthUnits): LengthNm | null {
    const found = form.exec(this.#text)
    const length = found === null ? null : readLength((found[1] ?? '').replace(/[\s-]+$/, ''), units)
    if (found === null || length === null || !length.ok) return null
    this.#cut(found.index, found.index + found[0].length)
    return length.value
  }

  takeSizes(units: LengthUnits): readonly LengthNm[] {
    const found = findSizes(this.#text, units)
    if (found === null) return []
    this.#cut(found.from, found.to)
    return found.sizesNm
  }

  /** Two words or more with capitals before the first comma or colon, none of them a wood, a finish, a kind or an option. */
  takeNameInFront({ woods, finishes }: ShopWords): RegExpExecArray | null {
    const found = NAME_IN_FRONT.exec(this.#text)
    const name = found?.[1]
    if (found === null || name === undefined) return null
    const words = name.split(/\s+/)
    const isThing = [...woods, ...finishes].some((thing) =>
      thing.name.split(/[\s-]+/).some((word) => words.some((one) => one.toLowerCase() === word.toLowerCase())),
    )
    const isAsked = [...KINDS, ...OPTIONS].some(({ said }) => said.test(name))
    const isCount = words.some((word) => NUMBER_WORDS[word.toLowerCase()] !== undefined)
    if (isThing || isAsked || isCount) return null
    this.#cut(found.index, found.index + found[0].length)
    return found
  }

  takeKind(): { readonly kind: SpokenKind; readonly said: string } | null {
    for (const { said, kind } of KINDS) {
      const found = this.take(said)
      if (found !== null) return { kind, said: found[0] }
    }
    return null
  }

  /** Ids of things whose name, or a telling word of it, is said; in the order said. Longer names win over shorter. */
  takeNamed(things: readonly NamedThing[], most: number): readonly string[] {
    const spellings = things
      .flatMap((thing) => spellingsOf(thing.name).map((said) => ({ id: thing.id, said })))
      .sort((a, b) => b.said.length - a.said.length)
    const found: { readonly id: string; readonly at: number }[] = []
    for (const { id, said } of spellings) {
      if (found.length >= most) break
      // Most names are not said: to look for the plain letters takes far less time than to make their form.
      if (!this.#text.toLowerCase().includes(said.toLowerCase())) continue
      const match = new RegExp(String.raw`(?<![\p{L}])${escaped(said)}(?![\p{L}])`, 'iu').exec(this.#text)
      if (match === null || found.some((one) => one.id === id)) continue
      // "The Cherry Street Inn" is no wood.
      if (BEFORE_STREET.test(this.#text.slice(match.index + match[0].length))) continue
      found.push({ id, at: match.index })
      this.#blank(match.index, match.index + match[0].length)
    }
    return found.sort((a, b) => a.at - b.at).map((one) => one.id)
  }

  parts(): readonly string[] {
    return this.#text.split(/;|\bplus\b/i)
  }

  rest(): string {
    return tidy(this.#text)
  }

  #cut(from: number, to: number): void {
    this.#text = `${this.#text.slice(0, from)} , ${this.#text.slice(to)}`
  }

  /** Keeps places as they are, so that the order said can still be told. */
  #blank(from: number, to: number): void {
    this.#text = this.#text.slice(0, from) + ','.repeat(to - from) + this.#text.slice(to)
  }
}

/** Ways to say a name: whole, with "poly" for short, or by a telling word of it. */
const spellingsOf = (name: string): readonly string[] => {
  const names = [...new Set([name, name.replace(/polyurethane/i, 'poly')])]
  return [...new Set(names.flatMap((one) => [one, ...tellingWords(one)]))]
}

/** Words by which a thing is asked for short: "oil" for "Mineral oil and wax", "maple" for "Hard maple". */
const tellingWords = (name: string): readonly string[] =>
  name.split(/[\s-]+/).filter((word) => word.length > 2 && !TOO_GENERAL.has(word.toLowerCase()))

const TOO_GENERAL = new Set([
  'and',
  'the',
  'with',
  'based',
  'water',
  'pure',
  'black',
  'white',
  'red',
  'hard',
  'soft',
  'brushed',
])

/** Leaves out what only joined the words that were taken. */
export function tidy(text: string): string {
  let tidied = text.replace(/\s+/g, ' ')
  for (let before = ''; before !== tidied;) {
    before = tidied
    tidied = tidied
      .replace(
        /(?:^|[\s,;/])(?:and|or|in|of|with|for|by|at|on|to|the|a|an|finish(?:ed)?|&|\/|-)(?=\s*(?:[,;/]|$))/gi,
        ' ',
      )
      .replace(/\s*[,/]\s*(?:[,/]\s*)+/g, ', ')
      .replace(/^[\s,;:/.-]+|[\s,;:/-]+$/g, '')
      .replace(/\s+/g, ' ')
  }
  return tidied
}

export const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
