/** Puts a text into the clipboard. Gives what to say then: a browser may refuse. */
export async function copyText(text: string): Promise<string> {
  try {
    await navigator.clipboard.writeText(text)
    return 'Copied.'
  } catch {
    return 'Not copied: the browser doesn’t allow it. Select the text and copy it yourself.'
  }
}
