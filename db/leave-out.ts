/** What stands in place of a person's name once the person has been erased. */
export const ERASED_NAME = 'Erased'

/** Takes what tells of one person out of texts and of plain data made of them. */
export interface LeavesOut {
  /** The text with `ERASED_NAME` in place of each word or phrase; the same text when there is none in it. */
  text(text: string): string
  /** The same for every text in a JSON value; names of fields stay, and the program's own words (`TYPED_IN`). */
  value(value: unknown): unknown
  /** Whether any of it stands in the text. */
  isIn(text: string): boolean
}

/** Shorter ones stand in too many words that mean something else. */
const SHORTEST = 3

/**
 * @param phrases names, numbers, addresses as they were typed; found whatever their letters' case, as whole words only
 */
export function leavingOut(phrases: readonly string[]): LeavesOut {
  const wanted = [...new Set(phrases.map((phrase) => phrase.trim()).filter((phrase) => phrase.length >= SHORTEST))]
  if (wanted.length === 0) return { text: (text) => text, value: (value) => value, isIn: () => false }
  // The longest first, so that "Ada Quist" goes as a whole before "Ada".
  const longestFirst = wanted.sort((a, b) => b.length - a.length)
  const pattern = new RegExp(`(?<![\\p{L}\\p{N}])(?:${longestFirst.map(literally).join('|')})(?![\\p{L}\\p{N}])`, 'giu')
  const text = (from: string): string => from.replace(pattern, ERASED_NAME)
  const valueOf = (from: unknown, field: string): unknown => {
    if (typeof from === 'string') return IDENTIFIER.test(from) && !TYPED_IN.has(field) ? from : text(from)
    if (Array.isArray(from)) return from.map((each) => valueOf(each, field))
    if (from === null || typeof from !== 'object') return from
    return Object.fromEntries(Object.entries(from).map(([name, inside]) => [name, valueOf(inside, name)]))
  }
  return { text, value: (from) => valueOf(from, ''), isIn: (from) => from.search(pattern) >= 0 }
}

/**
 * A wood or a finish may bear the name of a person: "cherry", one word in small letters, stays what it is where the program wrote it. In the
 * fields of `TYPED_IN` somebody typed it, and it goes.
 */
const IDENTIFIER = /^[a-z][a-z0-9_-]*$/

/** Names of fields that hold words as they were typed: of what a piece is told by, of an order as typed, of papers. */
export const TYPED_IN: ReadonlySet<string> = new Set([
  ...['title', 'name', 'says', 'shows', 'engravingSays', 'inlayShows', 'note', 'notes', 'why', 'neededWhy'],
  ...['depositHow', 'reference', 'address', 'reach', 'allergies', 'label', 'text', 'heading', 'signature'],
])

/** Spaces may have been typed otherwise elsewhere. */
const literally = (phrase: string): string => phrase.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&').replace(/\s+/g, '\\s+')
