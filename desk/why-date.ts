/** What decides one commission's date, as sentences, and the one change that would help most. */
export interface WhyDate {
  readonly sentences: readonly string[]
  readonly whatWouldHelp: string | null
}

export const noReason: WhyDate = { sentences: [], whatWouldHelp: null }
