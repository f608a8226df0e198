/**
 * Writes a line at the head of every printed page, with the number of the page; returns what takes it away again. The margin
 * boxes of a page are the one place that paper repeats by itself.
 */
export function headEveryPage(text: string): () => void {
  const sheet = new CSSStyleSheet()
  const quoted = `"${text.replaceAll(/["\\\n\r\f]/g, (sign) => `\\${sign.codePointAt(0)?.toString(16) ?? ''} `)}"`
  const type = "font: 9pt 'Source Sans 3 Variable', sans-serif"
  sheet.replaceSync(
    `@page { @top-left { content: ${quoted}; ${type} } @top-right { content: counter(page) " of " counter(pages); ${type} } }`,
  )
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]
  return () => {
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet)
  }
}
