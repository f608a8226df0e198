import { randomUUID } from 'node:crypto'
import { readPrice } from '../../core/money/money.ts'
import { isInvoice, PAPER_TITLES, type Paper } from '../../core/papers/paper.ts'
import { paperText } from '../../core/papers/paper-text.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { writeLocalDayInFull } from '../../core/time/write-instant.ts'
import { bookOfCommission } from '../../db/commissions.ts'
import { moneyOf } from '../../db/money.ts'
import { type IssuedPaper, issuePaper, paperById, papersOf } from '../../db/papers.ts'
import { remakesOf } from '../learning/remakes.ts'
import { momentOf } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { paperCautions } from './paper-cautions.ts'
import type { PaperSource } from './paper-source.ts'
import { type PaperInput, writePaper } from './write-paper.ts'

/** A paper as its form holds it. */
export type PaperForm = Omit<PaperInput, 'creditMinor'> & { readonly credit: string }

/** A paper on the screen, with its text for a mail. */
export interface PaperView {
  /** Null: not issued yet. */
  readonly id: string | null
  readonly number: number | null
  readonly paper: Paper
  readonly day: string
  readonly text: string
  readonly size: 'letter' | 'a4'
  /** What the maker should mind while it is written; none of it is printed. */
  readonly cautions: readonly string[]
}

/** One line of an order's list of papers. */
export interface PaperLine {
  readonly id: string
  readonly kind: Paper['kind']
  readonly title: string
  readonly number: number
  readonly day: string
}

/** The paper as it would be issued now. */
export async function previewPaper(shop: OpenShop, commissionId: string, form: PaperForm): Promise<Result<PaperView>> {
  const source = await sourceOf(shop, commissionId)
  if (!source.ok) return source
  const written = write(source.value, form)
  return written.ok
    ? ok({ ...viewOf(shop, written.value, null), cautions: paperCautions(source.value, form.kind) })
    : written
}

/** A paper of the newest order that can have one, for looking at its words. */
export async function samplePaper(shop: OpenShop, kind: PaperForm['kind']): Promise<Result<PaperView>> {
  const newest = shop.book.commissions.toSorted((a, b) => b.number - a.number)
  let last: Result<PaperView> = failed(problem('no-order', 'take an order first.'))
  for (const { id } of newest.slice(0, MOST_TRIED)) {
    const invoices = kind === 'credit-note' ? await papersOf(shop.db, id) : []
    const amends = invoices.find(({ paper }) => isInvoice(paper.kind))?.id ?? ''
    last = await previewPaper(shop, id, { kind, text: '', newDay: '', amends, credit: '1' })
    if (last.ok) return last
  }
  return last
}

const MOST_TRIED = 20

/** Issues a paper: from then on it is what it is. */
export async function issue(
  shop: OpenShop,
  commissionId: string,
  form: PaperForm,
): Promise<Result<{ readonly id: string }>> {
  const source = await sourceOf(shop, commissionId)
  if (!source.ok) return source
  const written = write(source.value, form)
  if (!written.ok) return written
  const issued: Omit<IssuedPaper, 'number'> = {
    id: randomUUID(),
    commissionId,
    issuedAtMs: shop.nowMs,
    paper: written.value,
    amends: form.kind === 'credit-note' ? form.amends : null,
  }
  const { id } = await issuePaper(shop.db, issued, { atMs: shop.nowMs, makerId: null })
  shop.changed()
  return ok({ id })
}

/** A paper as it was issued. */
export async function issuedPaper(shop: OpenShop, id: string): Promise<Result<PaperView>> {
  const found = await paperById(shop.db, id)
  return found === null
    ? failed(problem('unknown-paper', 'This paper is not in the shop’s file.', 'id'))
    : ok(viewOf(shop, found.paper, found))
}

export async function paperRows(shop: OpenShop, commissionId: string): Promise<PaperLine[]> {
  const papers = await papersOf(shop.db, commissionId)
  return papers.map(({ id, number, paper }) => ({
    id,
    number,
    kind: paper.kind,
    title: PAPER_TITLES[paper.kind],
    day: paper.day,
  }))
}

async function sourceOf(shop: OpenShop, commissionId: string): Promise<Result<PaperSource>> {
  const isOpen = shop.book.commissions.some(({ id }) => id === commissionId)
  const book = isOpen ? shop.book : await bookOfCommission(shop.db, commissionId)
  const commission = book?.commissions.find(({ id }) => id === commissionId)
  if (!book || !commission) return failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
  const moment = isOpen
    ? shop.moment()
    : momentOf(book, shop.almanac, null, shop.now, shop.locale, { stock: shop.stock })
  const [entries, issued] = [await moneyOf(shop.db, [commissionId]), await papersOf(shop.db, commissionId)]
  return ok({ commission, moment, entries, issued, remakes: await remakesOf(shop) })
}

function write(source: PaperSource, { credit, ...form }: PaperForm): Result<Paper> {
  if (form.kind !== 'credit-note') return writePaper(source, { ...form, creditMinor: 0 })
  const read = readPrice(credit, source.moment.almanac.shop.currency)
  return read.ok
    ? writePaper(source, { ...form, creditMinor: read.value })
    : failed(...read.problems.map((each) => ({ ...each, field: 'credit' })))
}

function viewOf(shop: OpenShop, paper: Paper, issued: IssuedPaper | null): PaperView {
  const day = writeLocalDayInFull(paper.day, shop.locale)
  const { paper: size } = shop.almanac.money
  return {
    id: issued?.id ?? null,
    number: issued?.number ?? null,
    paper,
    day,
    text: paperText(paper, issued?.number ?? null, day, shop.locale),
    cautions: [],
    size: size === 'by-units' ? (shop.almanac.shop.units === 'inch' ? 'letter' : 'a4') : size,
  }
}
