import type { WoodOnOffer } from '../almanac/almanac.ts'

/** What one line says of equal boards, as texts for the form's fields; empty where nothing is said. */
export interface SaidBoards {
  readonly count: string
  readonly wood: string
  readonly thickness: string
  readonly width: string
  readonly length: string
  readonly price: string
  /** What could not be sorted. */
  readonly rest: string
}

const NUMBER = String.raw`(?:\d+(?:[\s-]+\d+\s?[/⁄]\s?\d+|\s?[½⅓⅔¼¾⅛⅜⅝⅞])?|\d+\s?[/⁄]\s?\d+|\d*[.,]\d+|[½⅓⅔¼¾⅛⅜⅝⅞])`
const UNIT = String.raw`(?:\s?(?:mm|cm|m|inches|inch|in|feet|foot|ft)\b\.?|\s?["'″′”’])`
const SIZE = String.raw`(?:\d+\s?[/⁄]\s?4(?!\d)|${NUMBER})${UNIT}?(?:\s?\d+(?:[\s-]+\d+/\d+)?\s?["″”])?`
const SIZES = new RegExp(
  String.raw`(?<![\w/.,])(${SIZE})\s*(?:x|×|\*|\bby\b)\s*(${SIZE})(?:\s*(?:x|×|\*|\bby\b)\s*(${SIZE}))?(?![\w/])`,
  'i',
)
const COUNT =
  /^\s*(\d{1,2})(?:\s*[x×](?=\s*\p{L})|\s+(?:of(?:\s+these)?|boards?|planks?|pieces?)\b|(?=\s+(?:[4-9]|1\d)\s?\/\s?4\b)|(?=\s+(?!(?:x|by|mm|cm|m|in|ft|inch|inches|feet|foot)\b)\p{L}))/iu
const PRICE =
  /(?:\bat\s+)?(?:[$€£]\s?(\d+(?:[.,]\d+)*)|(\d+(?:[.,]\d+)*)\s?(?:[$€£]|(?:dollars|euros|pounds)\b))(?:\s*each\b)?/i

/**
 * Sorts boards that are typed in one line as they are said: `4 walnut 5/4 x 7 x 96`, `2 of 1 1/4 x 7 x 8' cherry, $38 each`. Sizes
 * are thickness, width, length; nothing that was said is lost.
 */
export function readBoardLine(line: string, woods: readonly WoodOnOffer[]): SaidBoards {
  let text = line
  const take = (form: RegExp): RegExpExecArray | null => {
    const found = form.exec(text)
    if (found !== null) text = `${text.slice(0, found.index)} ${text.slice(found.index + found[0].length)}`
    return found
  }
  const count = take(COUNT)
  const sizes = take(SIZES)
  const price = take(PRICE)
  const wood = woods
    .toSorted((a, b) => b.name.length - a.name.length)
    .find(
      ({ name }) =>
        take(new RegExp(String.raw`(?<!\p{L})${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(?!\p{L})`, 'iu')) !== null,
    )
  const [thickness = '', width = '', length = ''] = inOneUnit([sizes?.[1], sizes?.[2], sizes?.[3]])
  return {
    count: count?.[1] ?? '',
    wood: wood?.id ?? '',
    thickness,
    width,
    length,
    price: price?.[1] ?? price?.[2] ?? '',
    rest: text.replace(/\s+/g, ' ').replace(/^[\s,;.]+|[\s,;]+$/g, ''),
  }
}

/** A unit that is said once, after the last size, counts for all; only feet are never meant for a thickness. */
function inOneUnit(sizes: readonly (string | undefined)[]): readonly string[] {
  const said = sizes.filter((size) => size !== undefined).map((size) => size.trim())
  const unit = /(?:mm|cm|m|in|inch|inches|["″”])$/i.exec(said.at(-1) ?? '')?.[0]
  const bare = (size: string): boolean => /[\d½⅓⅔¼¾⅛⅜⅝⅞]$/.test(size) && !/^\d+\s?[/⁄]\s?4$/.test(size)
  return said.map((size) =>
    unit !== undefined && bare(size) && !/['′’]/.test(said.at(-1) ?? '') ? `${size} ${unit}` : size,
  )
}
