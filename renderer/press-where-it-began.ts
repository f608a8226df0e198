/** What answers a press. */
const PRESSABLE = 'button, a[href], summary, label, input, select, textarea'

/** What is typed in or chosen from: it answers as soon as a mouse is down, but of a finger only once it is lifted. */
const FIELD = 'select, textarea, input:not([type=checkbox], [type=radio], [type=file], [type=button], [type=submit])'

/** A hand that slips less than this, in CSS pixels, still presses; farther off, the maker has thought better of it. */
const SLIP_PX = 12

/** Some browsers give a finger that comes down beside a button to the button, though no farther from it than this, in CSS pixels. */
const BESIDE_PX = 16

interface Press {
  readonly id: number
  readonly what: HTMLElement | null
  /** What it does, as far as it says: Pause may have become Resume by the time that the finger is lifted. */
  readonly said: string | null
  readonly beside: ReadonlySet<HTMLElement>
  readonly x: number
  readonly y: number
}

const pressableAt = (target: EventTarget | null): HTMLElement | null =>
  target instanceof Element ? target.closest<HTMLElement>(PRESSABLE) : null

const saysOf = (what: HTMLElement | null): string | null =>
  what instanceof HTMLButtonElement ? (what.getAttribute('aria-label') ?? what.textContent) : null

function besideOf({ clientX, clientY, pointerType }: PointerEvent): ReadonlySet<HTMLElement> {
  if (pointerType !== 'touch') return new Set()
  const around = [-1, -0.5, 0, 0.5, 1].map((part) => part * BESIDE_PX)
  const found = around.flatMap((right) =>
    around.map((down) => pressableAt(document.elementFromPoint(clientX + right, clientY + down))),
  )
  return new Set(found.filter((what) => what !== null))
}

/**
 * A press counts where it began. Answers come while a finger is down and push the page about: a browser then gives the press
 * to whatever has slid under the finger, or, of a mouse, to nothing. Here it goes to what was touched, wherever that stands
 * now, and what came under the finger only later is not pressed, nor what does something else by now. Holds for the life of the page.
 */
export function pressWhereItBegan(): void {
  /** By mouse, pen or touch, the newest of each: a hand may rest on the glass while a pen writes. */
  const begun = new Map<string, Press>()
  let lifted: Press | undefined

  const isOf = (press: Press, target: EventTarget | null): boolean => {
    const what = pressableAt(target)
    return what === press.what || (what !== null && press.what === null && press.beside.has(what))
  }

  const follow = <Kind extends 'pointerdown' | 'pointerup' | 'pointercancel' | 'mousedown' | 'click'>(
    kind: Kind,
    heard: (event: WindowEventMap[Kind]) => void,
  ): void => addEventListener(kind, heard, { capture: true })

  follow('pointerdown', (event) => {
    lifted = undefined
    if (!event.isPrimary || event.button !== 0) return
    const what = pressableAt(event.target)
    const beside = what === null ? besideOf(event) : new Set<HTMLElement>()
    begun.set(event.pointerType, {
      ...{ id: event.pointerId, what, beside, said: saysOf(what), x: event.clientX, y: event.clientY },
    })
  })
  follow('pointercancel', ({ pointerType, pointerId }) => {
    if (begun.get(pointerType)?.id === pointerId) begun.delete(pointerType)
  })
  follow('pointerup', ({ pointerType, pointerId }) => {
    const press = begun.get(pointerType)
    lifted = pointerType === 'touch' && press?.id === pointerId ? press : undefined
  })
  // Only what follows the lifting of a finger: it would put the cursor into a field, or open a list, that was not touched.
  follow('mousedown', (event) => {
    if (lifted !== undefined && !isOf(lifted, event.target)) event.preventDefault()
  })
  follow('click', (event) => {
    lifted = undefined
    // Keys, code and screen readers make clicks without a press.
    if (event.detail === 0) return
    // Of a browser whose clicks do not say by which pointer, the newest press is meant.
    const id = event instanceof PointerEvent ? event.pointerId : undefined
    const [kind, press] = [...begun].findLast(([, each]) => id === undefined || each.id === id) ?? []
    if (kind === undefined || press === undefined) return
    // One press makes one click.
    begun.delete(kind)
    const doesTheSame = saysOf(press.what) === press.said
    if (isOf(press, event.target) && doesTheSame) return
    event.preventDefault()
    event.stopImmediatePropagation()
    const slippedPx = Math.hypot(event.clientX - press.x, event.clientY - press.y)
    if (doesTheSame && slippedPx <= SLIP_PX) giveTo(press.what)
  })
}

function giveTo(what: HTMLElement | null): void {
  if (what === null || !what.checkVisibility() || what.closest('[inert]') !== null) return
  if (what.matches(FIELD)) what.focus()
  else what.click()
}
