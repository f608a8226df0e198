import { randomInt, timingSafeEqual } from 'node:crypto'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import type { Right } from '../../db/kept-devices.ts'

/** Letters and digits that nobody takes for one another. @source Crockford, Base 32 (crockford.com/base32.html) */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
/** 50 bits: with five attempts, a chance of about 4 in 10^15. */
const LENGTH = 10
const GOOD_FOR_MS = 5 * 60 * 1000
const ATTEMPTS = 5

export interface OfferedCode {
  readonly code: string
  readonly name: string
  readonly right: Right
  readonly untilMs: number
  /** The paired device that gets a new key by it; null: one that is not known yet. */
  readonly renews: string | null
}

/** The one code that is good at the moment: for one device, once, for five minutes, and for five attempts in all. */
export class PairingCode {
  #offered: OfferedCode | null = null
  #attemptsLeft = 0

  offer(name: string, right: Right, nowMs: number, renews: string | null = null): OfferedCode {
    const code = Array.from({ length: LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]).join('')
    this.#attemptsLeft = ATTEMPTS
    return (this.#offered = { code, name, right, untilMs: nowMs + GOOD_FOR_MS, renews })
  }

  withdraw(): void {
    this.#offered = null
  }

  /** What is offered; null: nothing, or no more. */
  offered(nowMs: number): OfferedCode | null {
    if (this.#offered !== null && nowMs >= this.#offered.untilMs) this.#offered = null
    return this.#offered
  }

  /** Takes the code, which is used up by that. Whatever is wrong, the answer is the same: it helps nobody to guess. */
  take(typed: string, nowMs: number): Result<OfferedCode> {
    const offered = this.offered(nowMs)
    if (offered === null) return wrong
    const given = Buffer.from(typed.toUpperCase().replaceAll(/[\s-]/g, ''))
    const wanted = Buffer.from(offered.code)
    if (given.length === wanted.length && timingSafeEqual(given, wanted)) {
      this.#offered = null
      return ok(offered)
    }
    this.#attemptsLeft -= 1
    if (this.#attemptsLeft <= 0) this.#offered = null
    return wrong
  }
}

const wrong = failed(problem('wrong-code', 'This code does not work. Show a new one at the desk.', 'code'))
