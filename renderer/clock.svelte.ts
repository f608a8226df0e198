/**
 * The desk's time, ticking on in the page: every countdown reads it and so runs by itself. A clock that tests hold still
 * stays where it was set.
 */
class ShopClock {
  /** Milliseconds since the Unix epoch, renewed every second. */
  nowMs = $state(Date.now())
  /** The same in whole minutes, so that what shows minutes is drawn anew once a minute only. */
  nowMin = $derived(Math.floor(this.nowMs / 60_000))

  /** The same in whole days: changes once in 24 hours. */
  dayMin = $derived(Math.floor(this.nowMin / 1440) * 1440)

  #aheadMs = 0
  #ticking: ReturnType<typeof setInterval> | undefined

  /** The shop's time, in whole minutes, at a moment of this device's own clock. */
  minOf(deviceMs: number): number {
    return Math.floor((deviceMs + this.#aheadMs) / 60_000)
  }

  set(deskNowMs: number, held: boolean): void {
    clearInterval(this.#ticking)
    this.#aheadMs = deskNowMs - Date.now()
    this.nowMs = deskNowMs
    if (held) return
    this.#ticking = setInterval(() => {
      this.nowMs = Date.now() + this.#aheadMs
    }, 1000)
  }
}

export const clock = new ShopClock()
