/** What asks something just now, wherever it is on the page. */
const questions = new Set<HTMLElement>()

/** The line over the lower edge of the page; null while nothing is said. */
let line: HTMLElement | null = null

/** Room between what is kept clear and the line, in pixels. */
const ROOM = 16

/** Attached to a question: it does not come to lie under the line of what the last press did. */
export function clearOfSaid(question: HTMLElement): () => void {
  questions.add(question)
  clear(question)
  return () => void questions.delete(question)
}

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

/** Moves the page up by as much of it as is covered; its beginning stays in view. What is further down is scrolled to as ever. */
function clear(element: HTMLElement): void {
  if (line === null || line.offsetHeight === 0) return
  const { top, bottom } = element.getBoundingClientRect()
  const covered = bottom + ROOM - line.getBoundingClientRect().top
  if (covered > 0 && top < innerHeight) scrollBy({ top: Math.min(covered, Math.max(0, top)), behavior: 'instant' })
}
