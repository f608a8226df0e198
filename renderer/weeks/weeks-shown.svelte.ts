/** How the weeks ahead were last looked at; kept while other screens are open. */
class WeeksShown {
  weeks = $state(2)
  as = $state<'drawn' | 'written'>('drawn')
}

export const weeksShown = new WeeksShown()
