import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** The text of each page of a PDF, in reading order, with its lines. */
export async function pdfPages(bytes: Uint8Array): Promise<readonly string[]> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise
  const pages: string[] = []
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent()
    pages.push(items.map((item) => ('str' in item ? `${item.str}${item.hasEOL ? '\n' : ''}` : '')).join(''))
  }
  await pdf.loadingTask.destroy()
  return pages
}
