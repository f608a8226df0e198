import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { type PaperForm, issue, issuedPaper, paperRows, previewPaper, samplePaper } from './papers.ts'
import { id, text } from '../forms.ts'
import { inShop } from '../in-shop.ts'

const kind = z.enum([
  'quote',
  'estimate',
  'confirmation',
  'receipt',
  'invoice',
  'simplified-invoice',
  'credit-note',
  'balance-note',
  'delay-note',
  'progress-note',
  'care-card',
])

const paperForm = z.strictObject({
  kind,
  text,
  newDay: z.string().max(20),
  amends: z.string().max(64),
  credit: z.string().max(40),
}) satisfies z.core.$ZodType<PaperForm>

/** Papers for customers. */
export const papersProcedures = {
  papers: inShop(z.strictObject({ id }), async (shop, input) => ok(await paperRows(shop, input.id))),
  paper: inShop(z.strictObject({ id }), (shop, input) => issuedPaper(shop, input.id)),
  paperPreview: inShop(z.strictObject({ id, form: paperForm }), (shop, input) =>
    previewPaper(shop, input.id, input.form),
  ),
  paperSample: inShop(z.strictObject({ kind }), (shop, input) => samplePaper(shop, input.kind)),
  paperIssue: inShop(z.strictObject({ id, form: paperForm }), (shop, input) => issue(shop, input.id, input.form)),
}
