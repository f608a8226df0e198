import type { FileToKeep } from '../desk/open-formats/take-along.ts'

/** Hands a file to the maker, as a download of the window or the browser. */
export function keepFile({ name, mediaType, text }: FileToKeep): void {
  const address = URL.createObjectURL(new Blob([text], { type: mediaType }))
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  // The download has taken hold of it by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
}
