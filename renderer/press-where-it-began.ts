/** What answers a press. What is typed in or chosen from answers as soon as the finger is down. */
const PRESSABLE = 'button, a[href], summary, label, input'

/** A hand that slips less than this, in CSS pixels, still presses; farther off, the maker has thought better of it. */
const SLIP_PX = 12

interface Press {
  readonly what: HTMLElement | null
  readonly x: number
  readonly y: number
}

/**
 * A press counts where it began. Answers come while a finger is down and push the page about: a browser then gives the press
 * to whatever has slid under the finger, or, of a mouse, to nothing. Here it goes to what was touched, wherever that stands
 * now, and what came under the finger only later is not pressed. Holds for the life of the page.
 */
export function pressWhereItBegan(): void {
  let began: Press | null = null
  const pressableAt = (target: EventTarget | null): HTMLElement | null =>
    target instanceof Element ? target.closest<HTMLElement>(PRESSABLE) : null

  addEventListener(
    'pointerdown',
    (event) => {
      if (event.isPrimary) began = { what: pressableAt(event.target), x: event.clientX, y: event.clientY }
    },
    { capture: true },
  )
  addEventListener(
    'click',
    (event) => {
      const press = began
      // One press makes one click; a key, or code, makes a click without a press.
      began = null
      if (press === null || event.detail === 0 || pressableAt(event.target) === press.what) return
      event.preventDefault()
      event.stopImmediatePropagation()
      const slippedPx = Math.hypot(event.clientX - press.x, event.clientY - press.y)
      const isThere = press.what?.isConnected === true && press.what.closest('[inert]') === null
      if (isThere && slippedPx <= SLIP_PX) press.what.click()
    },
    { capture: true },
  )
}
