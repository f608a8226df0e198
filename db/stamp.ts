/** An instant for names of files and folders: `20261125T180000Z`. */
export const stamp = (atMs: number): string => new Date(atMs).toISOString().replace(/[-:]|\.\d+/g, '')

/** The instant of such a name, in milliseconds since the Unix epoch; NaN when it is none. */
export function atOfStamp(name: string): number {
  const [, year, month, day, hour, minute, second] = /^(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z$/.exec(name) ?? []
  return Date.parse(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`)
}
