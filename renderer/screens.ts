/**
 * The screens, by the words makers see, in the order of the rail. The one list of them: navigation, shortcuts and the
 * pictures of all screens go through it.
 */
export interface ScreenEntry {
  readonly name: ScreenName
  readonly address: string
  readonly word: string
  /** The key that opens it while no field has the focus. */
  readonly key: string
}

export type ScreenName = 'bench' | 'rack' | 'orders' | 'new-order' | 'weeks' | 'timber' | 'tally' | 'year' | 'almanac'

export const screens: readonly ScreenEntry[] = [
  { name: 'bench', address: '#/bench', word: 'Bench', key: 'B' },
  { name: 'rack', address: '#/rack', word: 'Rack', key: 'R' },
  { name: 'orders', address: '#/orders', word: 'Order book', key: 'O' },
  { name: 'new-order', address: '#/new-order', word: 'New order', key: 'N' },
  { name: 'weeks', address: '#/weeks', word: 'Weeks ahead', key: 'W' },
  { name: 'timber', address: '#/timber', word: 'Lumber', key: 'L' },
  { name: 'tally', address: '#/tally', word: 'Tally', key: 'T' },
  { name: 'year', address: '#/year', word: 'Year', key: 'Y' },
  { name: 'almanac', address: '#/almanac', word: 'Almanac', key: 'A' },
]

/** Where the page is: one of the screens, or one commission. */
export type PagePlace =
  | { readonly screen: ScreenName }
  /** Within the order book. */
  | { readonly screen: 'customers' }
  /** With the step that failed, where it is told which: its log stands open there. */
  | { readonly screen: 'commission'; readonly id: string; readonly failedStepId?: string }
  | { readonly screen: 'change-order'; readonly id: string }
  | { readonly screen: 'paper'; readonly id: string; readonly orderId: string }
  | { readonly screen: 'labels'; readonly id: string }
  /** What the code on a tag opens. */
  | { readonly screen: 'number'; readonly number: number }

/** Reads the page's hash; anything unknown is the Bench. */
export function placeOf(hash: string): PagePlace {
  const commission = /^#\/commission\/([^/]+)(?:\/failed\/([^/]+))?$/.exec(hash)
  const [id, failedStepId] = [commission?.[1], commission?.[2]].map((part) =>
    part === undefined ? null : decoded(part),
  )
  if (id != null) return { screen: 'commission', id, ...(failedStepId != null && { failedStepId }) }
  const change = /^#\/change\/([\w-]+)$/.exec(hash)
  if (change?.[1] !== undefined) return { screen: 'change-order', id: change[1] }
  const paper = /^#\/paper\/([\w-]+)\/([\w-]+)$/.exec(hash)
  if (paper?.[1] !== undefined && paper[2] !== undefined) return { screen: 'paper', orderId: paper[1], id: paper[2] }
  if (hash === '#/customers') return { screen: 'customers' }
  const labels = /^#\/labels\/([\w-]+)$/.exec(hash)
  if (labels?.[1] !== undefined) return { screen: 'labels', id: labels[1] }
  const number = /^#\/no\/(\d{1,9})\/\d{1,3}$/.exec(hash)
  if (number?.[1] !== undefined) return { screen: 'number', number: Number(number[1]) }
  return { screen: screens.find((entry) => entry.address === hash)?.name ?? 'bench' }
}

export const commissionAddress = (id: string): string => `#/commission/${encodeURIComponent(id)}`

/** The order with the log of a step open where it is made again. */
export const failedStepAddress = (id: string, stepId: string): string =>
  `${commissionAddress(id)}/failed/${encodeURIComponent(stepId)}`

export const changeAddress = (id: string): string => `#/change/${id}`

export const labelsAddress = (orderId: string): string => `#/labels/${orderId}`

export const paperAddress = (orderId: string, id: string): string => `#/paper/${orderId}/${id}`

/** Null: an address that nobody wrote with `encodeURIComponent`. */
function decoded(text: string): string | null {
  try {
    return decodeURIComponent(text)
  } catch {
    return null
  }
}
