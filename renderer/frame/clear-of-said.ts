/** What asks something just now, wherever it is on the page. */
const questions = new Set<HTMLElement>()

/** The line over the lower edge of the page; null while nothing is said. */
let line: HTMLElement | null = null

/** Room between what is kept clear and the line, in pixels. */
const ROOM = 16

/** Attached to a question: it is seen whole once it opens or grows, and does not come to lie under the line of what the last press did. */
export function clearOfSaid(question: HTMLElement): () => void {
  questions.add(question)
  const grown = new ResizeObserver(() => moveUp(question, Math.min(innerHeight, lineTop() ?? innerHeight)))
  grown.observe(question)
  return () => {
    questions.delete(question)
    grown.disconnect()
  }
}

/** What lies over the upper edge of the page on a phone: the way to the other screens. */
export const keepBelow = (head: HTMLElement): (() => void) =>
  keepOff(
    '--head',
    head,
    () => getComputedStyle(head).position === 'sticky' && head.offsetWidth === document.documentElement.clientWidth,
  )

/** Keeps clear of the line what is asked and what has the focus, also when the page above them changes. Returns the function that ends it. */
export function keepClearOf(said: HTMLElement): () => void {
  line = said
  const grown = new ResizeObserver(() => {
    for (const question of questions) clear(question)
    clearFocused()
  })
  for (const each of [said, document.getElementById('page')]) if (each !== null) grown.observe(each)
  document.addEventListener('focusin', clearFocused)
  return () => {
    line = null
    grown.disconnect()
    document.removeEventListener('focusin', clearFocused)
  }
}

/** A field with its label and what is wrong with it; what was pressed with a finger shows no focus, and the page stays as it is. */
function clearFocused(): void {
  const focused = document.activeElement
  if (!(focused instanceof HTMLElement) || focused.closest('main') === null) return
  if (focused.id === 'page' || !focused.matches(':focus-visible')) return
  clear(focused.closest<HTMLElement>('.field') ?? focused)
}

/** What stays at the lower edge of a page, such as the press that saves it: no field that is gone to lies below. */
export const keepAbove = (foot: HTMLElement): (() => void) =>
  // Beside the fields it covers none.
  keepOff('--foot', foot, () => foot.offsetWidth > (document.getElementById('page')?.offsetWidth ?? 0) / 2)

/** Tells the styles how much of the page lies under something that stays at its edge, as long as it is there. */
function keepOff(property: '--head' | '--foot', cover: HTMLElement, covers: () => boolean): () => void {
  const { style } = document.documentElement
  const measured = new ResizeObserver(() => style.setProperty(property, covers() ? `${cover.offsetHeight}px` : '0px'))
  measured.observe(cover)
  return () => {
    measured.disconnect()
    style.removeProperty(property)
  }
}

const lineTop = (): number | null =>
  line === null || line.offsetHeight === 0 ? null : line.getBoundingClientRect().top

function clear(element: HTMLElement): void {
  const edge = lineTop()
  if (edge !== null) moveUp(element, edge)
}

/**
 * Moves the page up by as much of it as is below this edge; its beginning stays in view, below the page's head. What is further down is
 * scrolled to as ever.
 */
function moveUp(element: HTMLElement, edge: number): void {
  const { top, bottom } = element.getBoundingClientRect()
  const head = Number.parseFloat(getComputedStyle(document.documentElement).scrollPaddingTop) || 0
  const covered = bottom + ROOM - edge
  if (covered > 0 && top < innerHeight)
    scrollBy({ top: Math.min(covered, Math.max(0, top - head)), behavior: 'instant' })
}
