/**
 * Sentences of more than 15 words that have a reason, by the file that says them: so many of each at most, so that none comes in
 * unseen. Everything else a person reads keeps to rule 12.
 */
export const LONG_TEXTS: readonly { readonly file: RegExp; readonly most: number; readonly reason: string }[] = [
  {
    file: /^core\/cautions\//,
    most: 22,
    reason: 'a caution names the danger, what to do and who says so, and is never cut short',
  },
  { file: /^core\/timber\/saw-cautions\.ts$/, most: 2, reason: 'a caution is never cut short' },
  {
    file: /^core\/waits\/|^core\/wood\/|^core\/glue\//,
    most: 14,
    reason: 'citations and readings of sources, unfolded under "why?"',
  },
  {
    file: /^core\/constructions\//,
    most: 30,
    reason: 'how a size comes about, unfolded under "why?", and instructions on a ticket',
  },
  { file: /^core\/papers\//, most: 5, reason: 'terms on a paper, as whole as a customer is owed them' },
  { file: /^core\/money\/currency\.ts$/, most: 1, reason: 'a list of codes that nobody reads' },
  { file: /^core\/book\/changed-network\.ts$/, most: 1, reason: 'why work is lost, unfolded under "why?"' },
  { file: /^desk\/lumber\//, most: 7, reason: 'how a figure of wood comes about, unfolded under "why?"' },
  {
    file: /^renderer\/almanac\/(how-it-reckons\.ts|HowItReckons\.svelte)$/,
    most: 7,
    reason: 'the page of methods and sources',
  },
  {
    file: /^renderer\/widgets\/OddsRule\.svelte$/,
    most: 2,
    reason: 'method and source of the odds, unfolded under "why?"',
  },
  {
    file: /^desk\/screens\/why-first\.ts$/,
    most: 1,
    reason: 'the rule of the list in one sentence, unfolded under "why this first?"',
  },
  {
    file: /^electron\/start-options\.ts$/,
    most: 1,
    reason: 'all options of the command line, for whoever types there',
  },
  {
    file: /^db\/(refusals|rescue-losses)\.ts$/,
    most: 2,
    reason: 'what became of a data file, whole; a query that nobody reads',
  },
]

/** Messages of more than 60 characters, rule 9, that have a reason. */
export const LONG_UNDER_FIELDS: readonly { readonly file: RegExp; readonly reason: string }[] = [
  {
    file: /^core\/planning\/problem\//,
    reason: 'stands in a line of its own, beside the order that has no date, not under a field',
  },
  { file: /^core\/constructions\/own\//, reason: 'names the formula and what it gives with these sizes' },
  { file: /^core\/constructions\/free-list\//, reason: 'names the row and its time' },
  {
    file: /^core\/(almanac\/lists|constructions\/design\/products)\.ts$/,
    reason: 'names what is gone from the Almanac, and what to do',
  },
]
