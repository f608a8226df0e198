/** Sizes and times in a text are not torn apart at the end of a line: `12" x 15" x 1 1/2"`, `1 h 7 min`. */
export const unbrokenSizes = (text: string): string =>
  text.replace(/(?<=[\d"”′'’m]) (?=x \d|\d+\/\d)|(?<=\bx) (?=\d)|(?<=\d) (?=(?:h|min)\b)/g, '\u00a0')
