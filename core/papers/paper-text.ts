import { writeMoney } from '../money/money.ts'
import type { Paper } from './paper.ts'

/** A paper as plain text, for a mail or a message. */
export function paperText(paper: Paper, number: number | null, day: string, locale: string): string {
  const money = (minor: number): string => writeMoney(minor, paper.currency, locale)
  const blocks: readonly (readonly string[])[] = [
    [
      number === null ? paper.title : `${paper.title} no. ${number}`,
      day,
      ...linesOf(paper.from.name, paper.from.address, paper.from.reach),
      ...linesOf(paper.from.taxNumber === '' ? '' : `Tax number ${paper.from.taxNumber}`),
    ],
    [...linesOf(paper.to.name, paper.to.address), `Order no. ${paper.order}`],
    paper.facts.map(({ label, text }) => `${label}: ${text}`),
    paper.lines.map(({ text, minor }) => (minor === null ? text : `${text}: ${money(minor)}`)),
    paper.sums.map(({ label, minor }) => `${label}: ${money(minor)}`),
    ...paper.texts.map(({ heading, text }) => linesOf(heading, text)),
  ]
  return blocks
    .filter((block) => block.length > 0)
    .map((block) => block.join('\n'))
    .join('\n\n')
}

const linesOf = (...texts: readonly string[]): readonly string[] => texts.filter((text) => text !== '')
