import { inches, millimetres, type LengthNm, type LengthUnits } from '../lengths/length.ts'
import type { LocalDay } from '../time/local-day.ts'
import {
  ADDRESS,
  type SpokenOption,
  type SpokenKind,
  SAME_AS,
  BARE_PRICE,
  DEPOSIT,
  PAID_BY,
  SIDES,
  PRICE,
  PRICE_EACH,
  MAIL,
  TELEPHONE,
  OCCASION,
  CUSTOMER,
  NUMBER_WORDS,
  COUNT_FIRST,
  COUNT_LATER,
  THICKNESS,
  CELL,
  OPTIONS,
  SHIELD,
  ENGRAVED,
  ENGRAVED_WORDS,
  COUNT_OF_OWN,
  OWN_NAME,
  AFTER_PARTING,
  KINDS,
  SURNAME_AFTER_FOR,
  SURNAME_IN_FRONT,
} from './order-line-forms.ts'
import { type NamedThing, type ShopWords, escaped, Listener, tidy } from './order-line-listener.ts'

/** A whole order as one line says it; what was not said is null or empty. Texts are as typed, for the form's fields. */
export interface SpokenOrder {
  readonly pieces: readonly SpokenPiece[]
  readonly customer: string | null
  readonly reach: string | null
  /** A second way, where both a telephone number and a mail address were said. */
  readonly secondReach: string | null
  readonly address: string | null
  readonly neededBy: LocalDay | null
  readonly neededWhy: string | null
  readonly price: string | null
  readonly deposit: string | null
  /** How the deposit was paid, in the word that was said. */
  readonly depositHow: string | null
  /** Number of an earlier order that is to be made again; pieces then say what is to be different. */
  readonly sameAs: number | null
  /** What could not be sorted, in the order in which it was said; belongs into the notes. */
  readonly rest: string
}

export interface SpokenPiece {
  readonly count: number | null
  readonly kind: SpokenKind | null
  /** Id of the maker's own construction that was called by its name; null: none was. */
  readonly own: string | null
  /** Length or width first, as said; the third one is a thickness or a height, by what is made. */
  readonly sizesNm: readonly LengthNm[]
  /** Where it was said by its word: "1 1/2 thick". */
  readonly thicknessNm: LengthNm | null
  /** Sides that were said by their word: `48" long`. */
  readonly sidesNm: Readonly<Partial<Record<'length' | 'width' | 'height', LengthNm>>>
  /** It was called something that names no kind known here: nobody but the maker can say how it is built. */
  readonly isUnknown: boolean
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

/**
 * Sorts an order that is typed as it is spoken: `2 boards 16x12 walnut/maple, by 12 Dec, oil`. Several pieces are
 * separated by `;` or `plus`. Nothing that was said is lost: what fits no field comes back as `rest`.
 */
export function readOrderLine(line: string, words: ShopWords): SpokenOrder {
  const { shielded, said: engravings } = shieldEngravings(line)
  // Before anything else: a house number is no price, count or size, and Oak Street no wood.
  const address = ADDRESS.exec(shielded)
  const named = shieldOwnNames(address === null ? shielded : shielded.replace(address[0], ' , '), words.own)
  const listen = new Listener(withSurnames(named.shielded, named.said))
  const again = listen.take(SAME_AS)
  const due = listen.takeDay(words.today) ?? listen.takeFair(words)
  const deposit = listen.take(DEPOSIT)
  const paidBy = deposit === null ? null : (deposit[3] ?? listen.take(PAID_BY)?.[1] ?? null)
  const each = listen.take(PRICE_EACH)
  const price = each ?? listen.take(PRICE)
  const [reach, secondReach] = listen.takeInOrder([MAIL, TELEPHONE])
  const occasion = listen.take(OCCASION)
  const customer = listen.take(CUSTOMER) ?? listen.takeNameInFront(words)
  const parts = listen
    .parts()
    .map((part) => readPiece(part, words, { engravings, own: named.said }, { mayPrice: price === null }))
  const pieces = parts.map(({ piece }) => piece).filter(saysAnything)
  const said =
    price === null ? sumOf(parts.flatMap(({ barePrice }) => barePrice ?? [])) : (price[1] ?? price[2] ?? null)
  return {
    pieces,
    customer: customer?.[1] ?? null,
    reach: reach === undefined ? null : withOwnNames(reach, named.said),
    secondReach: secondReach === undefined ? null : withOwnNames(secondReach, named.said),
    address: address?.[1] ?? null,
    neededBy: due?.day ?? null,
    neededWhy: occasion?.[1]?.toLowerCase() ?? due?.feast ?? null,
    price: each === null || said === null ? said : forAll(said, pieces),
    deposit: deposit === null ? null : (deposit[1] ?? deposit[2] ?? null),
    depositHow: paidBy?.toLowerCase() ?? null,
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

function shieldEngravings(line: string): { readonly shielded: string; readonly said: string[] } {
  const said: string[] = []
  const shielded = line
    .replaceAll(SHIELD, ' ')
    .replaceAll(ENGRAVED_WORDS, (_, word: string, double?: string, single?: string, year?: string) => {
      said.push((double ?? single ?? year ?? '').trim())
      return `${word}${SHIELD}`
    })
  return { shielded, said }
}

interface OwnName {
  readonly id: string
  readonly said: string
  readonly isPlural: boolean
}

/** Names of the maker's own constructions, each made one sign: the sign of the first is the first of `OWN_NAME`. Longer names win. */
function shieldOwnNames(
  line: string,
  own: readonly NamedThing[],
): { readonly shielded: string; readonly said: readonly OwnName[] } {
  const said: OwnName[] = []
  let shielded = line.replaceAll(new RegExp(OWN_NAME, 'g'), ' ')
  for (const { id, name } of own.toSorted((one, other) => other.name.length - one.name.length)) {
    if (name.trim() === '') continue
    shielded = shielded.replaceAll(oneOrMany(name.trim()), (found: string, many?: string) => {
      said.push({ id, said: found, isPlural: many !== undefined })
      return String.fromCharCode(FIRST_OWN_NAME + said.length - 1)
    })
  }
  return { shielded, said }
}

/** "Picture frame", "picture-frames"; "Mantel shelf", "mantel shelves"; "Pastry", "pastries". The first group is there for many of it. */
function oneOrMany(name: string): RegExp {
  const words = (text: string): string =>
    text
      .split(/[\s-]+/)
      .map(escaped)
      .join(String.raw`[\s-]+`)
  const stem = name.replace(/fe?$|(?<![aeiou])y$/i, '')
  const end = name.slice(stem.length).toLowerCase()
  const many = end === '' ? `${words(name)}(e?s)` : `${words(stem)}(${end === 'y' ? 'ies' : 'ves'})|${words(name)}(s)`
  return new RegExp(String.raw`(?<![\p{L}\d])(?:${many}|${words(name)})(?![\p{L}\d])`, 'giu')
}

const FIRST_OWN_NAME = 0xe100

/**
 * Names with a capital after a customer's first name are the surname again: one word right after "for", whatever else is said ("60x8 walnut
 * for Ana Mantel"); several words, or in front of everything, only where the same piece is called something else.
 */
const withSurnames = (text: string, said: readonly OwnName[]): string =>
  text
    .split(AFTER_PARTING)
    .map((part) => [SURNAME_AFTER_FOR, SURNAME_IN_FRONT].reduce((now, form) => withSurname(now, form, said), part))
    .join('')

const withSurname = (part: string, form: RegExp, said: readonly OwnName[]): string =>
  part.replace(form, (whole: string, before: string, sign: string) => {
    const name = withOwnNames(sign, said)
    const others = part.replace(sign, '')
    const isCalled = OWN_NAME.test(others) || KINDS.some(({ said: kind }) => kind.test(others))
    const isSurname = isCalled || (form === SURNAME_AFTER_FOR && !/\s/.test(name))
    return /^\p{Lu}/u.test(name) && isSurname ? before + name : whole
  })

/** As it was typed: each sign is the name again that it stands for. */
const withOwnNames = (text: string, said: readonly OwnName[]): string =>
  text.replaceAll(new RegExp(OWN_NAME, 'g'), (sign) => said[sign.charCodeAt(0) - FIRST_OWN_NAME]?.said ?? '')

/**
 * No side of a piece that is said is longer: above it a bare number is no size.
 * @source longest standard length of hardwood lumber, 16 ft: NHLA, Rules for the Measurement and Inspection of Hardwood and Cypress (from memory)
 */
const LONGEST_SIDE: Readonly<Record<LengthUnits, number>> = {
  inch: 16 * 12,
  millimetre: Math.ceil((16 * inches(12)) / millimetres(1)),
}

/**
 * @param engravings what is to be engraved, in the order said; what belongs to this piece is taken out
 * @param mayPrice whether a bare number may be what it costs: no price was said otherwise
 */
function readPiece(
  text: string,
  { units, woods, finishes }: ShopWords,
  { engravings, own: ownNames }: { readonly engravings: string[]; readonly own: readonly OwnName[] },
  { mayPrice }: { readonly mayPrice: boolean },
): { readonly piece: SpokenPiece; readonly barePrice: string | null; readonly rest: string } {
  const listen = new Listener(text)
  const thicknessNm = listen.takeLength(THICKNESS, units)
  const cellNm = listen.takeLength(CELL, units)
  const sidesNm = Object.fromEntries(
    SIDES.flatMap(({ said, side }) => {
      const sideNm = listen.takeLength(said, units)
      return sideNm === null ? [] : [[side, sideNm]]
    }),
  )
  const options: SpokenOption[] = OPTIONS.flatMap(({ said, option }) => (listen.take(said) === null ? [] : [option]))
  const engraved = listen.take(ENGRAVED)
  if (engraved !== null) options.push('engraved')
  const engravingSays = engraved?.[1] === undefined ? null : (engravings.shift() ?? null)
  const sizesNm = listen.takeSizes(units)
  const count = listen.take(COUNT_FIRST) ?? listen.take(COUNT_LATER) ?? listen.take(COUNT_OF_OWN)
  const barePrice = mayPrice ? (listen.take(BARE_PRICE)?.[1] ?? null) : null
  const ownName = ownNames[(listen.take(OWN_NAME)?.[0].charCodeAt(0) ?? 0) - FIRST_OWN_NAME] ?? null
  // Woods first: the oak of an oak box is no kind of box.
  const saidWoods = listen.takeNamed(woods, Infinity)
  const finish = listen.takeNamed(finishes, 1)[0] ?? null
  const heard = ownName === null ? listen.takeKind() : null
  // What was heard is a comma now, so a number may stand free that did not: a price only where it can be nothing else, and
  // "walnut boxes 250" may be so many of them.
  const mayBeCount = count === null && (ownName?.isPlural ?? /s$/i.test(heard?.said ?? ''))
  const beside =
    mayPrice && barePrice === null && !mayBeCount && (heard !== null || ownName !== null)
      ? listen.takeAmount(BARE_PRICE, LONGEST_SIDE[units])
      : null
  const howMany =
    count === null ? null : (count[1] ?? NUMBER_WORDS[(count[2] ?? '').toLowerCase().replace(/\s+/g, ' ')])
  const said = {
    count: howMany === null ? null : Number(howMany),
    kind: heard?.kind ?? null,
    own: ownName?.id ?? null,
    sizesNm,
    thicknessNm,
    sidesNm,
    woods: saidWoods,
    finish,
    options,
    engravingSays,
    cellNm,
  }
  const left = listen.rest()
  const isUnknown = heard === null && ownName === null && saysAnything(said) && /\p{L}{2}/u.test(left)
  // Of a piece that is not known every word is kept. Said twice of one piece: what is not its field's stays whole among the notes.
  const rest = (isUnknown ? tidy(text) : left).replaceAll(SHIELD, () => ` “${engravings.shift() ?? ''}”`)
  return { piece: { ...said, isUnknown }, barePrice: barePrice ?? beside, rest: withOwnNames(rest, ownNames) }
}

const saysAnything = ({
  count,
  kind,
  own,
  sizesNm,
  sidesNm,
  woods,
  finish,
  options,
  cellNm,
}: Omit<SpokenPiece, 'isUnknown'>): boolean =>
  count !== null ||
  kind !== null ||
  own !== null ||
  sizesNm.length > 0 ||
  Object.keys(sidesNm).length > 0 ||
  woods.length > 0 ||
  finish !== null ||
  options.length > 0 ||
  cellNm !== null

/** Prices of several pieces that were said one by one; null where none was. */
function sumOf(prices: readonly string[]): string | null {
  const [first, ...others] = prices
  if (first === undefined || others.length === 0) return first ?? null
  const all = prices.reduce((sum, price) => sum + Number(price.replace(',', '.')), 0)
  return Number.isInteger(all) ? String(all) : all.toFixed(2)
}

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
