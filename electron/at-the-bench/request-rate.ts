/** Requests that may come at once, and a second on and on. */
interface Pace {
  readonly burst: number
  readonly aSecond: number
}

/** Opening the app takes about eighty requests, one a file: three devices behind one address, or one that opens it three times. */
export const STRANGER: Pace = { burst: 240, aSecond: 20 }
/** A device that is paired opens the app several times in a row: at pairing, anew, in a second tab. */
export const PAIRED: Pace = { burst: 600, aSecond: 60 }

/** Who asks is remembered for so many; a network at home has fewer. */
const MOST_ASKING = 500

/** Lets each make requests at its pace: by its address, or by its device where it is paired. A bucket of tokens that fills with time. */
export class RequestRate {
  readonly #pace: Pace
  readonly #buckets = new Map<string, { tokens: number; atMs: number }>()

  constructor(pace: Pace) {
    this.#pace = pace
  }

  allows(who: string): boolean {
    const { burst, aSecond } = this.#pace
    const nowMs = performance.now()
    const bucket = this.#buckets.get(who) ?? { tokens: burst, atMs: nowMs }
    bucket.tokens = Math.min(burst, bucket.tokens + ((nowMs - bucket.atMs) / 1000) * aSecond)
    bucket.atMs = nowMs
    const isAllowed = bucket.tokens >= 1
    if (isAllowed) bucket.tokens -= 1
    // The one that was used last stands last.
    this.#buckets.delete(who)
    this.#buckets.set(who, bucket)
    const [oldest] = this.#buckets.keys()
    if (this.#buckets.size > MOST_ASKING && oldest !== undefined) this.#buckets.delete(oldest)
    return isAllowed
  }
}
