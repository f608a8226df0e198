import type { PaperKind } from '../../core/papers/paper.ts'
import { writeLocalDayInFull } from '../../core/time/write-instant.ts'
import { mailOrderRule } from './delay-note.ts'
import { estimateRange } from './estimate-range.ts'
import type { PaperSource } from './paper-source.ts'

/** Papers that say nothing about money or terms. */
const WITHOUT_TERMS: ReadonlySet<PaperKind> = new Set(['care-card', 'progress-note'])

/**
 * What the maker should mind before this paper goes out. It is told where the paper is written and never printed: a customer is told
 * what was agreed, not what the maker ought to ask an accountant.
 */
export function paperCautions(source: PaperSource, kind: PaperKind): readonly string[] {
  if (WITHOUT_TERMS.has(kind)) return []
  return [
    ...(kind === 'delay-note' ? mailOrderCautions(source) : []),
    ...(kind === 'estimate' ? withoutRange(source) : []),
    'Price, tax and contract rules differ from place to place. Ask your tax office, an accountant or a lawyer: this is no legal or tax advice.',
  ]
}

/** Why an estimate has one price instead of a range, and what would give it one. */
function withoutRange(source: PaperSource): readonly string[] {
  const range = estimateRange(source)
  return range.kind === 'range' || range.missing.length === 0
    ? []
    : [`One price, no range yet. ${range.missing.join(' ')}`]
}

/** @source 16 CFR 435.2 (days), 435.1 (a prompt refund: seven working days) */
function mailOrderCautions(source: PaperSource): readonly string[] {
  const rule = mailOrderRule(source)
  if (rule === null) return []
  const day = (of: string): string => writeLocalDayInFull(of, source.moment.wording.locale)
  return [
    `US rule for orders by mail, phone or internet (16 CFR 435): ship by ${day(rule.shipBy)}. A new day after ${day(rule.silenceUntil)} needs a clear yes; without it, refund everything within 7 working days.`,
  ]
}
