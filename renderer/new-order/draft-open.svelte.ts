/** Which of the orders being typed the page shows; null: the one typed in last. Stays while other screens are looked at. */
class DraftOpen {
  key: string | null = $state(null)
}

export const draftOpen = new DraftOpen()
