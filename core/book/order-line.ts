import type { LengthNm, LengthUnits } from '../lengths/length.ts'
import { readLength } from '../lengths/read-length.ts'
import { findSizes } from '../lengths/read-sizes.ts'
import { daysLater, type LocalDay } from '../time/local-day.ts'
import { findDay } from './spoken-day.ts'

/** What the reader of a spoken order must know of the shop. */
export interface ShopWords {
  readonly today: LocalDay
  readonly units: LengthUnits
  readonly woods: readonly NamedThing[]
  readonly finishes: readonly NamedThing[]
  /** Days on which the almanac has the shop at a fair. */
  readonly fairs: readonly LocalDay[]
}

export interface NamedThing {
  readonly id: string
  readonly name: string
}

/** A whole order as one line says it; what was not said is null or empty. Texts are as typed, for the form's fields. */
export interface SpokenOrder {
  readonly pieces: readonly SpokenPiece[]
  readonly customer: string | null
  readonly reach: string | null
  /** A second way, where both a telephone number and a mail address were said. */
  readonly secondReach: string | null
  readonly neededBy: LocalDay | null
  readonly neededWhy: string | null
  readonly price: string | null
  readonly deposit: string | null
  /** Number of an earlier order that is to be made again; pieces then say what is to be different. */
  readonly sameAs: number | null
  /** What could not be sorted, in the order in which it was said; belongs into the notes. */
  readonly rest: string
}

export interface SpokenPiece {
  readonly count: number | null
  readonly kind: SpokenKind | null
  /** Length or width first, as said; the third one is a thickness or a height, by what is made. */
  readonly sizesNm: readonly LengthNm[]
  /** Where it was said by its word: "1 1/2 thick". */
  readonly thicknessNm: LengthNm | null
  /** Ids of the shop's woods, in the order said. */
  readonly woods: readonly string[]
  readonly finish: string | null
  /** Fields of a construction that were asked for by their word. */
  readonly options: readonly SpokenOption[]
  /** What is to be engraved, where it was said between quotes. */
  readonly engravingSays: string | null
  /** Side of a square cell, where it was said: "2 inch squares". */
  readonly cellNm: LengthNm | null
}

/** What can be asked for beside the piece itself. */
export type SpokenOption =
  'juice-groove' | 'finger-grips' | 'feet' | 'splines' | 'hinged' | 'loose-lid' | 'breadboard' | 'engraved'

/** Kinds of pieces as customers ask for them; the form knows which construction makes each. */
export type SpokenKind =
  'end-grain-board' | 'edge-grain-board' | 'board' | 'game-board' | 'tray' | 'box' | 'table' | 'bench'

/**
 * Sorts an order that is typed as it is spoken: `2 boards 16x12 walnut/maple, by 12 Dec, oil`. Several pieces are
 * separated by `;` or `plus`. Nothing that was said is lost: what fits no field comes back as `rest`.
 */
export function readOrderLine(line: string, words: ShopWords): SpokenOrder {
  const { shielded, said: engravings } = shieldEngravings(line)
  const listen = new Listener(shielded)
  const again = listen.take(SAME_AS)
  const due = listen.takeDay(words.today) ?? listen.takeFair(words)
  const deposit = listen.take(DEPOSIT)
  const each = listen.take(PRICE_EACH)
  const price = each ?? listen.take(PRICE)
  const [reach, secondReach] = listen.takeInOrder([MAIL, TELEPHONE])
  const occasion = listen.take(OCCASION)
  const customer = listen.take(CUSTOMER) ?? listen.takeNameInFront(words)
  const parts = listen.parts().map((part) => readPiece(part, words, engravings))
  const pieces = parts.map(({ piece }) => piece).filter(saysAnything)
  const said = price === null ? null : (price[1] ?? price[2] ?? null)
  return {
    pieces,
    customer: customer?.[1] ?? null,
    reach: reach ?? null,
    secondReach: secondReach ?? null,
    neededBy: due?.day ?? null,
    neededWhy: occasion?.[1]?.toLowerCase() ?? due?.feast ?? null,
    price: each === null || said === null ? said : forAll(said, pieces),
    deposit: deposit === null ? null : (deposit[1] ?? deposit[2] ?? null),
    sameAs: again === null ? null : Number(again.slice(1).find((number) => number !== undefined)),
    rest: tidy(
      parts
        .map(({ rest }) => rest)
        .filter((rest) => rest !== '')
        .join('; '),
    ),
  }
}

/** Whether a line says more than a name: then it is worth sorting. */
export const saysAnOrder = (order: SpokenOrder): boolean =>
  order.pieces.length > 0 || order.neededBy !== null || order.sameAs !== null

/** "same as no. 12", "like no. 12", "no. 12 again". */
const SAME_AS = new RegExp(
  [
    String.raw`\b(?:the\s+)?same\s+(?:as|like)\s+(?:(?:order|no\.?|number|#)\s*){1,2}(\d{1,6})\b`,
    String.raw`\b(?:the\s+)?same\s+as\s+(\d{1,6})\b(?!\s*(?:["″x×/.\d]|inch|in\b|mm\b|cm\b))`,
    String.raw`\b(?:like|again)\s+(?:order\s+)?(?:no\.?|number|#)\s*(\d{1,6})\b`,
    String.raw`(?<!\w)(?:order\s+)?(?:no\.?|number|#)\s*(\d{1,6})\s+again\b`,
  ].join('|'),
  'i',
)

const FIGURE = String.raw`\d+(?:[.,]\d+)*`
const AMOUNT = String.raw`[$€£]\s?${FIGURE}|${FIGURE}\s?(?:[$€£]|(?:dollars?|euros?|pounds?|usd|eur|gbp)\b)`
const DEPOSIT = new RegExp(
  String.raw`(?:\bwith\s+)?(?:\bdeposit\b\s*(?:of\s+)?(${AMOUNT}|${FIGURE})|(${AMOUNT}|${FIGURE})\s*(?:deposit|down)\b)`,
  'i',
)
const PRICE = new RegExp(String.raw`(?:\bfor\s+|\bat\s+)?(${AMOUNT})|\bprice\s+(${FIGURE})`, 'i')
const PRICE_EACH = new RegExp(
  String.raw`(?:\bfor\s+|\bat\s+)?(${AMOUNT}|(?<![\w/.])${FIGURE})\s*(?:each|apiece|a\s+piece|per\s+piece)\b`,
  'i',
)
const MAIL = /[^\s,;<>]+@[^\s,;<>]+\.[a-z]{2,}/i
const TELEPHONE = /(?<![\w/.-])\+?\(?\d[\d\s().-]{5,}\d(?![\w/"'])(?!\s*(?:x|mm|cm|in|by)\b)/
const OCCASION =
  /\b(?:as\s+|for\s+)?(?:an?\s+|the\s+|her\s+|his\s+|their\s+|my\s+)?((?:wedding|birthday|anniversary|house-?\s?warming|retirement)(?:\s+(?:gift|present))?|gift|present)\b/i
const CUSTOMER =
  /\bfor\s+((?:(?:Mrs?|Ms|Dr|Miss)\.?\s+)?\p{Lu}[\p{L}'’-]+(?:\s+(?:and|&|van|von|de|der|la|\p{Lu}\.|\p{Lu}[\p{L}'’-]+))*)/u

const NAME_IN_FRONT =
  /^[\s,]*((?:(?:Mrs?|Ms|Dr|Miss)\.?(?=\s+\p{Lu})|\p{Lu}[\p{L}'’-]+)(?:\s+(?:van|von|de|der|la|\p{Lu}\.|\p{Lu}[\p{L}'’-]+)){1,3})\s*[,:]/u

const NUMBER_WORDS: Readonly<Record<string, number>> = {
  a: 1,
  an: 1,
  one: 1,
  two: 2,
  'a pair of': 2,
  'pair of': 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  'a dozen': 12,
  dozen: 12,
  twelve: 12,
}
const COUNT_WORD = Object.keys(NUMBER_WORDS)
  .sort((a, b) => b.length - a.length)
  .join('|')
/** "at the fair", "before the next market", "pick up at the craft fair". */
const FAIR =
  /\b(?:pick(?:ed)?[\s-]?up\s+)?(by|before|at|for|until)\s+the\s+(?:next\s+)?(?:(?:craft|winter|spring|summer|fall|holiday|christmas)\s+)?(?:fair|market|show)\b/i

/** At the beginning of a piece: `2 boards`, `3x trays`, `two`, `a set of 4`. */
const COUNT_FIRST = new RegExp(
  String.raw`^[\s,:]*(?:but\s+)?(?:(?:a\s+)?set\s+of\s+)?(?:(\d{1,3})(?:\s*[x×]\s|\s+of\b|(?![\w/"'.])(?!\s*(?:mm|cm|in|inch|"|thick)\b))|(${COUNT_WORD})\s)`,
  'i',
)
/** Right before what is made: `walnut, 2 boards`. */
const COUNT_LATER =
  /(?<![\w/.,-])(\d{1,3})()\s+(?=(?:[a-z-]+\s+){0,2}(?:boards|trays|boxes|tables|benches|blocks|slabs)\b)/i
const THICKNESS =
  /(?<![\w/.,])((?:\d+[\s-]+\d+\s?\/\s?\d+|\d+\s?\/\s?\d+|\d*[.,]\d+|\d+\s?[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\d+)\s?(?:mm|cm|in(?:ch(?:es)?)?|["″])?)[\s-]*thick\b/i

const CELL =
  /(?<![\w/.,])((?:\d+[\s-]+\d+\s?\/\s?\d+|\d+\s?\/\s?\d+|\d+(?:[.,]\d+)?)\s?(?:mm|cm|in(?:ch(?:es)?)?|["″])?)[\s-]*(?:squares|cells)\b/i

const OPTIONS: readonly { readonly said: RegExp; readonly option: SpokenOption }[] = [
  { said: /\b(?:with\s+)?(?:an?\s+)?juice[\s-]*grooves?\b/i, option: 'juice-groove' },
  { said: /\b(?:with\s+)?(?:finger|hand)[\s-]*grips?\b/i, option: 'finger-grips' },
  { said: /\b(?:with\s+)?(?:rubber\s+)?feet\b/i, option: 'feet' },
  { said: /\b(?:with\s+)?splined?s?\b/i, option: 'splines' },
  { said: /\b(?:with\s+)?(?:an?\s+)?hinged(?:\s+(?:lid|top))?\b/i, option: 'hinged' },
  { said: /\b(?:with\s+)?(?:an?\s+)?(?:loose|lift[\s-]*off)\s+lid\b/i, option: 'loose-lid' },
  { said: /\b(?:with\s+)?breadboard\s+ends?\b/i, option: 'breadboard' },
]

/** Stands for words to be engraved while the rest is read: a day or a name among them is nobody's. */
const SHIELD = '\uE000'
const ENGRAVED = new RegExp(String.raw`\b(?:with\s+)?(?:an?\s+)?engrav(?:ed|ings?)(${SHIELD})?(?![a-z])`, 'i')

const KINDS: readonly { readonly said: RegExp; readonly kind: SpokenKind }[] = [
  { said: /\b(?:chess|checkers?|draughts|game)[\s-]*boards?\b/i, kind: 'game-board' },
  { said: /\bend[\s-]*grain(?:\s+(?:cutting|chopping))?(?:\s+(?:boards?|blocks?))?\b/i, kind: 'end-grain-board' },
  { said: /\b(?:butcher['’]?s?|chopping|carving)[\s-]*blocks?\b/i, kind: 'end-grain-board' },
  {
    said: /\b(?:edge|long|face)[\s-]*grain(?:\s+(?:cutting|chopping))?(?:\s+(?:boards?|slabs?))?\b/i,
    kind: 'edge-grain-board',
  },
  { said: /\b(?:(?:bread|cheese|serving|charcuterie)[\s-]*boards?|slabs?)\b/i, kind: 'edge-grain-board' },
  { said: /\b(?:(?:cutting|chopping|carving)[\s-]*)?boards?\b/i, kind: 'board' },
  { said: /\b(?:serving[\s-]*)?trays?\b/i, kind: 'tray' },
  { said: /\b(?:\w+[\s-]+)?box(?:es)?\b/i, kind: 'box' },
  { said: /\b(?:(?:side|coffee|end|night|small)[\s-]*)?tables?\b/i, kind: 'table' },
  { said: /\bbench(?:es)?\b/i, kind: 'bench' },
]

const ENGRAVED_WORDS =
  /\b(engrav(?:ed|ings?))[\s:,]*(?:(?:with|saying|says|that says|reading|of)\s+)?(?:["“]([^"“”]{1,60})["”]|['‘]([^'‘’]{1,60})['’](?!\w))/gi

function shieldEngravings(line: string): { readonly shielded: string; readonly said: string[] } {
  const said: string[] = []
  const shielded = line
    .replaceAll(SHIELD, ' ')
    .replaceAll(ENGRAVED_WORDS, (_, word: string, double?: string, single?: string) => {
      said.push((double ?? single ?? '').trim())
      return `${word}${SHIELD}`
    })
  return { shielded, said }
}

/** @param engravings what is to be engraved, in the order said; what belongs to this piece is taken out */
function readPiece(
  text: string,
  { units, woods, finishes }: ShopWords,
  engravings: string[],
): { readonly piece: SpokenPiece; readonly rest: string } {
  const listen = new Listener(text)
  const thicknessNm = listen.takeLength(THICKNESS, units)
  const cellNm = listen.takeLength(CELL, units)
  const options: SpokenOption[] = OPTIONS.flatMap(({ said, option }) => (listen.take(said) === null ? [] : [option]))
  const engraved = listen.take(ENGRAVED)
  if (engraved !== null) options.push('engraved')
  const engravingSays = engraved?.[1] === undefined ? null : (engravings.shift() ?? null)
  const sizesNm = listen.takeSizes(units)
  const count = listen.take(COUNT_FIRST) ?? listen.take(COUNT_LATER)
  // Woods first: the oak of an oak box is no kind of box.
  const saidWoods = listen.takeNamed(woods, Infinity)
  const kind = listen.takeKind()
  const finish = listen.takeNamed(finishes, 1)[0] ?? null
  const howMany =
    count === null ? null : (count[1] ?? NUMBER_WORDS[(count[2] ?? '').toLowerCase().replace(/\s+/g, ' ')])
  const piece = {
    count: howMany === null ? null : Number(howMany),
    kind,
    sizesNm,
    thicknessNm,
    woods: saidWoods,
    finish,
    options,
    engravingSays,
    cellNm,
  }
  // Said twice of one piece: what is not its field's stays whole among the notes.
  return { piece, rest: listen.rest().replaceAll(SHIELD, () => ` “${engravings.shift() ?? ''}”`) }
}

const saysAnything = ({ count, kind, sizesNm, woods, finish, options, cellNm }: SpokenPiece): boolean =>
  count !== null ||
  kind !== null ||
  sizesNm.length > 0 ||
  woods.length > 0 ||
  finish !== null ||
  options.length > 0 ||
  cellNm !== null

/**
 * The price of all pieces from one that was said for each: "$120" for two is "$240". An amount with both comma and point
 * stays as it was said.
 */
function forAll(said: string, pieces: readonly SpokenPiece[]): string {
  const count = pieces.reduce((sum, piece) => sum + (piece.count ?? 1), 0)
  const figure = /\d+(?:[.,]\d{1,2})?(?![\d.,])/.exec(said)
  if (figure === null || figure[0].length !== said.replaceAll(/[^\d.,]/g, '').length || count < 2) return said
  const digits = /[.,](\d+)$/.exec(figure[0])?.[1]?.length ?? 0
  const all = Number(figure[0].replace(',', '.')) * count
  const mark = figure[0].includes(',') ? ',' : '.'
  return said.replace(figure[0], all.toFixed(digits).replace('.', mark))
}

/** Takes what it knows out of a text, piece by piece; what is left over is the rest. */
class Listener {
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

  takeKind(): SpokenKind | null {
    for (const { said, kind } of KINDS) if (this.take(said) !== null) return kind
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
function tidy(text: string): string {
  let tidied = text.replace(/\s+/g, ' ')
  for (let before = ''; before !== tidied;) {
    before = tidied
    tidied = tidied
      .replace(
        /(?:^|[\s,;/])(?:and|or|in|of|with|for|by|at|on|to|the|a|an|finish(?:ed)?|&|\/|-)(?=\s*(?:[,;/]|$))/gi,
        ' ',
      )
      .replace(/\s*[,/]\s*(?:[,/]\s*)+/g, ', ')
      .replace(/^[\s,;/.-]+|[\s,;/-]+$/g, '')
      .replace(/\s+/g, ' ')
  }
  return tidied
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
