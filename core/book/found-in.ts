/**
 * Whether everything that was typed is found in a text. Capitals, accents and marks of inches don't matter; `16x12` is looked for as its
 * two sizes, a number as the beginning of one ("12" is in "12 1/2" and not in "112"), a telephone number by its digits alone.
 */
export function isFoundIn(text: string, sought: string): boolean {
  const words = wordsOf(sought)
  if (words.length === 0) return true
  const plain = plainText(text)
  const digits = text.replace(/[^\d]+/g, ' ')
  const joined = digits.replaceAll(' ', '')
  return words.every((word) => {
    if (/^\d{1,3}$/.test(word)) return new RegExp(String.raw`(?<![\d.,/])${word}`).test(plain)
    if (plain.includes(word)) return true
    const figures = word.replace(/[^\d]+/g, '')
    return figures.length >= 4 && figures.length === word.replace(/[-().+\s]/g, '').length && joined.includes(figures)
  })
}

const wordsOf = (sought: string): readonly string[] => plainText(sought).split(/\s+/).filter(Boolean)

const plainText = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase()
    .replace(/(\d)\s*[x×]\s*(?=\d)/g, '$1 ')
    .replace(/["″“”,;]/g, ' ')
