/** Requests that one address may make at once, and a second on and on: opening the app takes about forty. */
const BURST = 120
const A_SECOND = 20
/** Addresses that are remembered; a network at home has fewer. */
const MOST_ADDRESSES = 500

/** Lets each address make requests at the pace of a person. A bucket of tokens that fills with time. */
export class RequestRate {
  readonly #buckets = new Map<string, { tokens: number; atMs: number }>()
  readonly #nowMs: () => number

  constructor(nowMs: () => number = () => performance.now()) {
    this.#nowMs = nowMs
  }

  allows(address: string): boolean {
    const nowMs = this.#nowMs()
    const bucket = this.#buckets.get(address) ?? { tokens: BURST, atMs: nowMs }
    bucket.tokens = Math.min(BURST, bucket.tokens + ((nowMs - bucket.atMs) / 1000) * A_SECOND)
    bucket.atMs = nowMs
    const isAllowed = bucket.tokens >= 1
    if (isAllowed) bucket.tokens -= 1
    // The one that was used last stands last.
    this.#buckets.delete(address)
    this.#buckets.set(address, bucket)
    const [oldest] = this.#buckets.keys()
    if (this.#buckets.size > MOST_ADDRESSES && oldest !== undefined) this.#buckets.delete(oldest)
    return isAllowed
  }
}
