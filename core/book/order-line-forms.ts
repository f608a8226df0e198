/** What can be asked for beside the piece itself. */
export type SpokenOption =
  'juice-groove' | 'finger-grips' | 'feet' | 'splines' | 'hinged' | 'loose-lid' | 'breadboard' | 'engraved'

/** Kinds of pieces as customers ask for them; the form knows which construction makes each. */
export type SpokenKind =
  'end-grain-board' | 'edge-grain-board' | 'board' | 'game-board' | 'tray' | 'box' | 'table' | 'bench'

/** "same as no. 12", "like no. 12", "no. 12 again". */
export const SAME_AS = new RegExp(
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
const PAID_BY_WORD = String.raw`(?:,?\s*(?:in\s+|by\s+)?(cash|check|card|transfer)(?=\s*(?:[,;]|$|for\b)))?`
/** "deposit 80 cash", "paid 100", "$80 down, check": the amount, and how it was paid where that was said. */
export const DEPOSIT = new RegExp(
  String.raw`(?:\bwith\s+)?(?:\b(?:deposit|paid)\b\s*(?:of\s+)?(${AMOUNT}|${FIGURE})(?:\s+(?:deposit|down)\b)?|(${AMOUNT}|${FIGURE})\s*(?:deposit|down)\b)${PAID_BY_WORD}`,
  'i',
)
/** How a deposit was paid, said apart from it: "..., cash". */
export const PAID_BY = /(?<=[,;]\s*)(?:in\s+|by\s+)?(cash|check|card|transfer)(?=\s*(?:[,;]|$))/i
/** A number of at least two figures between commas: what else a number means has a word or a unit beside it. */
export const BARE_PRICE = /(?<=[,;]\s*)(\d{2,5}(?:[.,]\d{2})?)(?=\s*(?:,|$))/
export const PRICE = new RegExp(String.raw`(?:\bfor\s+|\bat\s+)?(${AMOUNT})|\bprice\s+(${FIGURE})`, 'i')
export const PRICE_EACH = new RegExp(
  String.raw`(?:\bfor\s+|\bat\s+)?(${AMOUNT}|(?<![\w/.])${FIGURE})\s*(?:each|apiece|a\s+piece|per\s+piece)\b`,
  'i',
)
export const MAIL = /[^\s,;<>]+@[^\s,;<>]+\.[a-z]{2,}/i
export const TELEPHONE = /(?<![\w/.-])\+?\(?\d[\d\s().-]{5,}\d(?![\w/"'])(?!\s*(?:x|mm|cm|in|by)\b)/
/** Words that end the name of a street, and such as are that only with a capital: "30 days way", "12x12 square". */
const STREET =
  '[Ss]treet|[Aa]venue|[Aa]ve|[Rr]oad|[Rr]d|[Ll]ane|[Ll]n|[Bb]oulevard|[Bb]lvd|[Hh]ighway|[Hh]wy|[Pp]arkway|[Pp]kwy|[Tt]errace'
const STREET_BY_CAPITAL = 'St|Drive|Dr|Court|Ct|Place|Pl|Circle|Cir|Ter|Way|Trail|Square|Sq'
/** Right after a word that is a wood elsewhere: "Cherry Street". */
export const BEFORE_STREET = new RegExp(String.raw`^\s+(?:${STREET}|${STREET_BY_CAPITAL})\b`)
const STREET_NAME = String.raw`(?:(?:\p{Lu}[\p{L}'’.-]*|\d{1,3}(?:st|nd|rd|th))\s+){1,3}`
/**
 * A house number, a name, and a word for a street: "1425 Oak Street", "7 N. Maple Ave, Apt 4, Dayton, OH 45402".
 * @source order of the parts, and the words of streets with their short forms: USPS Publication 28, Postal Addressing Standards (from memory)
 */
export const ADDRESS = new RegExp(
  [
    String.raw`(?:\b(?:ship(?:ped)?|send|deliver(?:ed)?)\s+(?:it\s+|them\s+)?to\s+|\bat\s+)?(?<![\w/.,-]|[x×*]\s*)`,
    String.raw`(\d{1,6}[a-z]?\s+(?:[NSEW]{1,2}\.?\s+)?`,
    String.raw`(?:${STREET_NAME}(?:${STREET}|${STREET_BY_CAPITAL})|\p{Ll}[\p{L}'’-]+\s+(?:${STREET}))\b\.?`,
    String.raw`(?:,?\s*(?:[Aa]pt|[Uu]nit|[Ss]uite|[Ss]te|#)\.?\s*\w{1,6}\b)?`,
    String.raw`(?:,?\s+(?:\p{L}[\p{L}.'’-]+[\s,]+){1,3}\p{L}{2},?\s+\d{5}(?:-\d{4})?\b)?)`,
  ].join(''),
  'u',
)
export const OCCASION =
  /\b(?:as\s+|for\s+)?(?:an?\s+|the\s+|her\s+|his\s+|their\s+|my\s+)?((?:wedding|birthday|anniversary|house-?\s?warming|retirement)(?:\s+(?:gift|present))?|gift|present)\b/i
export const CUSTOMER =
  /\bfor\s+((?:(?:Mrs?|Ms|Dr|Miss)\.?\s+)?\p{Lu}[\p{L}'’-]+(?:\s+(?:and|&|van|von|de|der|la|\p{Lu}\.|\p{Lu}[\p{L}'’-]+))*)/u

export const NAME_IN_FRONT =
  /^[\s,]*((?:(?:Mrs?|Ms|Dr|Miss)\.?(?=\s+\p{Lu})|\p{Lu}[\p{L}'’-]+)(?:\s+(?:van|von|de|der|la|\p{Lu}\.|\p{Lu}[\p{L}'’-]+)){1,3})\s*[,:]/u

export const NUMBER_WORDS: Readonly<Record<string, number>> = {
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
export const FAIR =
  /\b(?:pick(?:ed)?[\s-]?up\s+)?(by|before|at|for|until)\s+the\s+(?:next\s+)?(?:(?:craft|winter|spring|summer|fall|holiday|christmas)\s+)?(?:fair|market|show)\b/i

/** At the beginning of a piece: `2 boards`, `3x trays`, `two`, `a set of 4`. */
export const COUNT_FIRST = new RegExp(
  String.raw`^[\s,:]*(?:but\s+)?(?:(?:a\s+)?set\s+of\s+)?(?:(\d{1,3})(?:\s*[x×]\s|\s+of\b|(?![\w/"'.])(?!\s*(?:mm|cm|in|inch|"|thick)\b))|(${COUNT_WORD})\s)`,
  'i',
)
/** Right before what is made: `walnut, 2 boards`. */
export const COUNT_LATER =
  /(?<![\w/.,-])(\d{1,3})()\s+(?=(?:[a-z-]+\s+){0,2}(?:boards|trays|boxes|tables|benches|blocks|slabs)\b)/i
export const THICKNESS =
  /(?<![\w/.,])((?:\d+[\s-]+\d+\s?\/\s?\d+|\d+\s?\/\s?\d+|\d*[.,]\d+|\d+\s?[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\d+)\s?(?:mm|cm|in(?:ch(?:es)?)?|["″])?)[\s-]*thick\b/i

/** `48" long`, `14 wide`: one size by the word of its side; the last of sizes that are joined by x is none. */
const bySide = (word: string): RegExp =>
  new RegExp(
    String.raw`(?<![\w/.,])(?<!(?:[x×*]|\bby)\s*)((?:\d+[\s-]+\d+\s?\/\s?\d+|\d+\s?\/\s?\d+|\d+(?:[.,]\d+)?)\s?(?:mm|cm|in(?:ch(?:es)?)?|ft|feet|["″])?)[\s-]*(?:${word})\b(?![\s-]*grain)`,
    'i',
  )
export const SIDES: readonly { readonly said: RegExp; readonly side: 'length' | 'width' | 'height' }[] = [
  { said: bySide('long'), side: 'length' },
  { said: bySide('wide'), side: 'width' },
  { said: bySide('high|tall'), side: 'height' },
]

export const CELL =
  /(?<![\w/.,])((?:\d+[\s-]+\d+\s?\/\s?\d+|\d+\s?\/\s?\d+|\d+(?:[.,]\d+)?)\s?(?:mm|cm|in(?:ch(?:es)?)?|["″])?)[\s-]*(?:squares|cells)\b/i

export const OPTIONS: readonly { readonly said: RegExp; readonly option: SpokenOption }[] = [
  { said: /\b(?:with\s+)?(?:an?\s+)?juice[\s-]*grooves?\b/i, option: 'juice-groove' },
  { said: /\b(?:with\s+)?(?:finger|hand)[\s-]*grips?\b/i, option: 'finger-grips' },
  { said: /\b(?:with\s+)?(?:rubber\s+)?feet\b/i, option: 'feet' },
  { said: /\b(?:with\s+)?splined?s?\b/i, option: 'splines' },
  { said: /\b(?:with\s+)?(?:an?\s+)?hinged(?:\s+(?:lid|top))?\b/i, option: 'hinged' },
  { said: /\b(?:with\s+)?(?:an?\s+)?(?:loose|lift[\s-]*off)\s+lid\b/i, option: 'loose-lid' },
  { said: /\b(?:with\s+)?breadboard\s+ends?\b/i, option: 'breadboard' },
]

/** Stand for the names of the maker's own constructions while the rest is read: no wood, kind or occasion is heard in them. */
export const OWN_NAME = /[\uE100-\uF8FF]/
/** First names, titles and what joins them: "Ana B. ", "Mr. ", "Ana and Tom "; no possessive: "Ana's ". */
const FIRST_NAMES = String.raw`\p{Lu}(?:[\p{L}.-]|['’](?!s\b))*\s+(?:(?:(?:and|&|van|von|de|der|la|\p{Lu}(?:[\p{L}.-]|['’](?!s\b))*)\s+){0,4})(?:[\p{L}'’]+-)?`
/** After a first name, where one is spoken of: "for Tom Porter". */
export const SURNAME_AFTER_FOR = new RegExp(String.raw`(\bfor\s+${FIRST_NAMES})(${OWN_NAME.source})`, 'u')
/** The same in front of everything: "Tom Porter: ...". */
export const SURNAME_IN_FRONT = new RegExp(
  String.raw`(^[\s,]*(?=[^,:]*${OWN_NAME.source}\s*[,:])${FIRST_NAMES})(${OWN_NAME.source})`,
  'u',
)
/** Right after what parts two pieces. */
export const AFTER_PARTING = /(?<=;|\bplus\b)/i
/** Right before one of them: `walnut, 2 picture frames`. */
export const COUNT_OF_OWN = new RegExp(String.raw`(?<![\w/.,-])(\d{1,3})()\s+(?=${OWN_NAME.source})`)

/** Stands for words to be engraved while the rest is read: a day or a name among them is nobody's. */
export const SHIELD = '\uE000'
export const ENGRAVED = new RegExp(String.raw`\b(?:with\s+)?(?:an?\s+)?engrav(?:ed|ings?)(${SHIELD})?(?![a-z])`, 'i')

export const KINDS: readonly { readonly said: RegExp; readonly kind: SpokenKind }[] = [
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

/** What is to be engraved, between quotes, or a year right after the word: no price and no size. */
export const ENGRAVED_WORDS =
  /\b(engrav(?:ed|ings?))(?:[\s:,]*(?:(?:with|saying|says|that says|reading|of)\s+)?(?:["“]([^"“”]{1,60})["”]|['‘]([^'‘’]{1,60})['’](?!\w))|\s+(?:(?:with|saying|reading)\s+)?((?:1[5-9]|20)\d\d)(?![\w/.]|\s*x))/gi
