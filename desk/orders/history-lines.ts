import type { BookStep, Piece, PutRightWhy } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import { FAILURE_WORDS } from '../../core/book/failure-reasons.ts'
import { writeMoney } from '../../core/money/money.ts'
import type { LogEntry } from '../../db/log.ts'
import type { ChangeableTable } from '../../db/row-changes.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'
import { labelAt } from '../piece-label.ts'
import { durationWords } from '../../core/time/duration.ts'

export interface HistoryLine {
  readonly entryId: number
  readonly atMs: number
  readonly who: string | null
  /** The phone or tablet on which it was written; null: the desk. */
  readonly device: string | null
  readonly text: string
  /** The sums of money in it, as words; empty: none. */
  readonly sums: string
  readonly undone: boolean
  readonly canUndo: boolean
}

/** What happened to one commission, newest first, in words. */
export function historyLines(entries: readonly LogEntry[], moment: Moment): HistoryLine[] {
  const makers = new Map(moment.almanac.makers.map((maker) => [maker.id, maker.name]))
  const byId = new Map(entries.map((entry) => [entry.id, entry]))
  const told = toldInTheirTime(entries, moment)
  return entries
    .map((entry) => ({
      entryId: entry.id,
      atMs: entry.atMs,
      who: whoAndWhere(entry.makerId === null ? undefined : makers.get(entry.makerId), entry.device),
      device: entry.device,
      ...(undoneTold(entry, byId, told) ?? told.get(entry.id) ?? { text: '', sums: '' }),
      undone: !entry.counts,
      canUndo: entry.counts && entry.event.kind !== 'remark' && entry.undoes === null,
    }))
    .reverse()
}

/** "Undid: started flatten the panel of Tray", "Undid: order changed, No. 3, Ines Vale"; null: it takes back nothing that is told of here. */
function undoneTold(
  entry: LogEntry,
  byId: ReadonlyMap<number, LogEntry>,
  told: ReadonlyMap<number, Told>,
): Told | null {
  const word = entry.action === 'taken-back' ? 'Undid' : entry.action === 'put-back' ? 'Redid' : null
  if (word === null) return null
  // What put a step back was itself an undoing: what it was about stands at the end of the chain.
  let about = byId.get(entry.undoes ?? -1)
  while (about?.undoes != null) about = byId.get(about.undoes)
  if (about === undefined) return null
  const { text, sums } = told.get(about.id) ?? { text: '', sums: '' }
  const [first = '', ...rest] = text
  const after = about.event.kind === 'step' ? ' ' : ', '
  return { text: `${word}: ${first.toLowerCase()}${rest.join('').replace(': ', after)}`, sums }
}

/** "by Wren, on Phone" */
function whoAndWhere(maker: string | undefined, device: string | null): string | null {
  if (device === null) return maker === undefined ? null : `by ${maker}`
  return maker === undefined ? `on ${device}` : `by ${maker}, on ${device}`
}

type Told = Pick<HistoryLine, 'text' | 'sums'>

type Named = Pick<Piece, 'title' | 'count'>

/**
 * Each entry in the words of its own time, by its number: a piece is named as it was then. What the book has is how all of it ended, so
 * the log is gone through from its end, and each change is taken back on the way.
 */
function toldInTheirTime(entries: readonly LogEntry[], moment: Moment): ReadonlyMap<number, Told> {
  const pieces = new Map<unknown, Named>(moment.book.pieces.map((piece) => [piece.id, piece]))
  const told = new Map<number, Told>()
  for (const entry of entries.toReversed()) {
    const after = new Map(pieces)
    for (const { key, before } of rowsOf(entry, 'piece')) {
      if (before === null) pieces.delete(key['id'])
      else pieces.set(key['id'], { title: '', count: 1, ...pieces.get(key['id']), ...(before as Partial<Named>) })
    }
    const changed = entry.action === 'order-changed' ? oldAndNew(entry, pieces, after) : []
    const text = [entryText(entry, moment, (id) => after.get(id)?.title), ...changed].join('. ')
    told.set(entry.id, { text, sums: sumsIn(entry, moment) })
  }
  return told
}

const rowsOf = ({ event }: LogEntry, of: ChangeableTable) =>
  event.kind === 'rows' ? event.changes.filter(({ table }) => table === of) : []

/** `Board 18" became Board 20"`. */
function oldAndNew(entry: LogEntry, before: ReadonlyMap<unknown, Named>, after: ReadonlyMap<unknown, Named>): string[] {
  return rowsOf(entry, 'piece').flatMap(({ key: { id } }) => {
    const [old, now] = [before.get(id), after.get(id)].map((piece) => piece && countedTitle(piece))
    if (old === now) return []
    return [old === undefined ? `New: ${now}` : now === undefined ? `No more: ${old}` : `${old} became ${now}`]
  })
}

/** `Price $180, now $210` of an order that was changed, `Wood $12` of a step that failed. */
function sumsIn(entry: LogEntry, { almanac, wording: { locale } }: Moment): string {
  const say = (cell: unknown): string =>
    typeof cell === 'number' ? writeMoney(cell, almanac.shop.currency, locale) : 'none'
  if (entry.event.kind === 'step')
    return entry.event.did.kind === 'failed' && entry.event.did.woodMinor
      ? `Wood ${say(entry.event.did.woodMinor)}`
      : ''
  const [order] = entry.action === 'order-changed' ? rowsOf(entry, 'commission') : []
  return order?.after?.['price_minor'] === undefined
    ? ''
    : `Price ${say(order.before?.['price_minor'])}, now ${say(order.after['price_minor'])}`
}

/**
 * One entry as a line: "Done: first glue-up of Checkerboard", "Done: sand of Board, lot 2 of 2".
 * @param titleThen of a piece by its id, as it was at that time; undefined: as it is now
 */
export function entryText(
  entry: LogEntry,
  moment: Moment,
  titleThen: (pieceId: string) => string | undefined = () => undefined,
): string {
  if (entry.action === 'taken-back') return `Undid entry ${entry.undoes}`
  if (entry.action === 'put-back') return `Redid entry ${entry.undoes}`
  if (entry.event.kind === 'step' && entry.stepId !== null) {
    const step = moment.step(entry.stepId)
    const lotNow = moment.lotOf(entry.stepId)
    const piece = step && lotNow && labelAt(step, lotNow)
    const title = piece && (titleThen(piece.pieceId) ?? piece.title)
    const lot = piece?.lot == null ? '' : `, ${piece.lot}`
    const of = title === undefined ? '' : ` of ${title}${lot}`
    return `${stepWord(entry, moment)}: ${step?.name.toLowerCase() ?? 'a step'}${of}${howItFailed(entry, step)}`
  }
  const commission = moment.book.commissions.find((each) => each.id === entry.commissionId)
  const whose = commission ? `: No. ${commission.number}, ${commission.customer.name}` : ''
  const note = NOTED.has(entry.action) ? entry.note : whyStopped(entry)
  return `${actionWord(entry)}${whatChanged(entry)}${whose}${note === '' ? '' : `. ${note}`}`
}

/** What became of the order's own row: the cells that changed. */
const orderCells = ({ event }: LogEntry) =>
  (event.kind === 'rows' ? event.changes.find(({ table }) => table === 'commission')?.after : null) ?? {}

/** Of an inquiry nothing was taken yet, and nothing is canceled. */
function actionWord(entry: LogEntry): string {
  const { standing, closed_from: from } = orderCells(entry)
  if (entry.action === 'commission-taken' && standing === 'asked-about') return 'Saved as inquiry'
  if (entry.action === 'commission-called-off' && from === 'asked-about') return 'Inquiry lost'
  return actionWords[entry.action] ?? entry.action
}

/** The reason that was typed with it. */
function whyStopped(entry: LogEntry): string {
  const { closed_why: closed, on_hold_why: held } = orderCells(entry)
  const why = entry.action === 'commission-called-off' ? closed : entry.action === 'commission-held' ? held : ''
  return typeof why === 'string' ? why : ''
}

/** ", 1 of 3. Split along the grain" */
function howItFailed({ event, note }: LogEntry, step: BookStep | undefined): string {
  if (event.kind !== 'step' || event.did.kind !== 'failed') return ''
  const { count } = event.did
  const some = step !== undefined && count < step.lotCount ? `, ${count} of ${step.lotCount}` : ''
  return `${some}${note === '' ? '' : `. ${note}`}`
}

/** Entries that tell in words what it was about. */
const NOTED: ReadonlySet<string> = new Set(['order-changed', 'step-added', 'step-left-out', 'step-earlier'])

/** What of an order was changed by hand: " price, where it will live". */
function whatChanged({ action, event }: LogEntry): string {
  if (action !== 'commission-changed' || event.kind !== 'rows') return ''
  const columns = event.changes.flatMap(({ table, after }) =>
    table === 'customer' ? ['customer'] : Object.keys(after ?? {}),
  )
  const words = new Set(columns.flatMap((column) => columnWords[column] ?? []))
  return words.size === 0 ? '' : ` ${[...words].join(', ')}`
}

const columnWords: Readonly<Record<string, string>> = {
  customer: 'customer',
  customer_id: 'customer',
  needed_by: 'needed day',
  needed_why: 'occasion',
  promised_for: 'promise',
  weight: 'weight',
  notes: 'notes',
  price_minor: 'price',
  deposit_minor: 'deposit',
  deposit_how: 'deposit',
  untaxed_why: 'tax',
  extra_lines: 'extras',
  kept_minor: 'sum kept',
  remind_on: 'reminder',
  gift_for: 'gift',
  gift_address: 'gift',
  home_dry_c: 'climate',
  home_dry_rh: 'climate',
  home_damp_c: 'climate',
  home_damp_rh: 'climate',
}

function stepWord(entry: LogEntry, { wording: { locale } }: Moment): string {
  if (entry.event.kind !== 'step') return entry.action
  const { did } = entry.event
  switch (did.kind) {
    case 'started':
      return 'Started'
    case 'paused':
      return 'Paused'
    case 'done':
      return 'Done'
    case 'found-ready':
      return 'Found ready early'
    case 'moved':
      return did.place === null ? 'Carried back into the shop' : 'Carried off to dry'
    case 'still-tacky':
      return `Still tacky, pushed back ${durationWords(did.untilMin - entry.atMs / 60_000)}`
    case 'failed':
      return `Failed (${FAILURE_WORDS[did.reason].toLowerCase()})`
    case 'put-right':
      return PUT_RIGHT_WORDS[did.why]
    case 'wood-off-list':
      return 'Wood is off the list'
    case 'pinned':
      return did.day === null ? 'No day asked for' : `Set for ${writeLocalDay(did.day, locale)}`
  }
}

const PUT_RIGHT_WORDS: Readonly<Record<PutRightWhy, string>> = {
  entered: 'Entered later',
  corrected: 'Times fixed',
  'wrong-step': 'Not this step',
  'moved-here': 'Moved here',
}

const actionWords: Readonly<Record<string, string>> = {
  'commission-taken': 'Order taken',
  'commission-changed': 'Changed',
  'order-changed': 'Order changed',
  'step-added': 'Step added',
  'step-left-out': 'Step left out',
  'step-earlier': 'Step done earlier',
  'commission-agreed': 'Order taken',
  'commission-held': 'Put on hold',
  'commission-resumed': 'Back in work',
  'commission-called-off': 'Canceled',
  'commission-reopened': 'Opened again',
  'commission-told': 'Customer told',
  'commission-reminder': 'Reminder',
  'piece-handed-over': 'One piece handed over',
  'commission-handed-over': 'Handed over',
  'pieces-again': 'To make again',
  'money-entered': 'Money entered',
  'year-figure': 'Year’s figure typed',
  'money-taken-back': 'Payment corrected',
  'paper-issued': 'Paper issued',
  'almanac-changed': 'Almanac changed',
  'times-decided': 'Times decided',
  'boards-added': 'Boards added',
  'board-changed': 'Board changed',
  'board-used-up': 'Board used up',
  'board-cut': 'Board cut',
  'boards-freed': 'Boards free for other orders',
  'supply-changed': 'Stock changed',
  'supply-out': 'Ran out of something',
  'supply-here': 'Supplies here',
  'supply-removed': 'Supply off the list',
  'person-erased': 'A customer erased',
  'lumber-here': 'Lumber here',
  'lumber-expected': 'Lumber expected later',
  'lumber-rested': 'Lumber OK to cut',
  'lumber-from': 'Where the lumber comes from',
}
