/** The almanac's pages, in the order in which a new shop is set up. */
export const almanacPages = [
  { id: 'shop', word: 'Shop' },
  { id: 'air', word: 'Heat and humidity' },
  { id: 'makers', word: 'Makers and hours' },
  { id: 'special-days', word: 'Special days' },
  { id: 'stations', word: 'Stations' },
  { id: 'glues', word: 'Glues' },
  { id: 'finishes', word: 'Finishes' },
  { id: 'woods', word: 'Woods' },
  { id: 'yard', word: 'Lumberyard' },
  { id: 'price', word: 'Prices' },
  { id: 'tax', word: 'Taxes' },
  { id: 'papers', word: 'Papers' },
  { id: 'constructions', word: 'Constructions' },
  { id: 'side-by-side', word: 'Compare' },
  { id: 'standard-times', word: 'Standard times' },
  { id: 'your-times', word: 'Your times' },
  { id: 'allowances', word: 'Allowances' },
  { id: 'backups', word: 'Backups' },
  { id: 'take-along', word: 'Take it with you' },
  { id: 'devices', word: 'Phones and tablets' },
  { id: 'how-it-reckons', word: 'How it reckons' },
  { id: 'about', word: 'About' },
] as const

export type AlmanacPage = (typeof almanacPages)[number]['id']
