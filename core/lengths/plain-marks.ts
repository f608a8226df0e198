const VULGAR_FRACTIONS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅐': '1/7',
  '⅑': '1/9',
  '⅒': '1/10',
}

/**
 * Typographic marks of a size turned into the plain ones of a keyboard, in lower case: `18¾″` becomes `18 3/4"`,
 * `40 × 30` becomes `40 x 30`. Telephones and word processors write these without being asked.
 */
export function plainMarks(text: string): string {
  return text
    .toLowerCase()
    .replace(/[\u00a0\u2000-\u200a\u202f\u3000\t]/g, ' ')
    .replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⅐⅑⅒]/g, (sign) => ` ${VULGAR_FRACTIONS[sign] ?? sign}`)
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/[\u00ad\u2010-\u2015\u2212]/g, '-')
    .replace(/[×✕]/g, 'x')
    .replace(/[\u2033\u201c-\u201f\u3003]|''|[\u2032\u2018\u2019]{2}/g, '"')
    .replace(/[\u2032\u2018-\u201b\u00b4`]/g, "'")
    .replace(/(\d)\s*(?:and|&|\+)\s*(\d)/g, '$1 $2')
    .replace(/\b(in|ft|inch|inches|feet|foot)\.?\s*(?:and|&|\+)\s*(\d)/g, '$1 $2')
    .replace(/\s+/g, ' ')
    .trim()
}
