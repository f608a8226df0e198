/**
 * What was pressed may go with the press: Start makes way for Done, a form closes. A browser then begins anew at the top of the
 * rail; whoever moves by keyboard goes on where the page begins instead. Returns the function that ends it.
 */
export function keepFocusOnPage(page: HTMLElement): () => void {
  let last: Node | null = null
  const came = (event: FocusEvent): void => {
    last = event.target instanceof Node && page.contains(event.target) ? event.target : null
  }
  const watching = new MutationObserver(() => {
    if (last === null || last.isConnected || document.activeElement !== document.body) return
    page.focus({ preventScroll: true })
  })
  document.addEventListener('focusin', came)
  watching.observe(page, { childList: true, subtree: true })
  return () => {
    document.removeEventListener('focusin', came)
    watching.disconnect()
  }
}
