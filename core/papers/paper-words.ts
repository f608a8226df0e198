import { failed, ok, problem, type Result } from '../problems.ts'
import { PAPER_TITLES, type PaperKind } from './paper.ts'

/** A text of a paper that the shop may say in words of its own. */
export interface PaperWord {
  readonly kind: PaperKind
  readonly name: string
  readonly label: string
  /** As built in; empty: nothing is said there. */
  readonly text: string
}

/** The shop's own words by `kind.name`; what is not there is said as built in. An empty text is left out of the paper. */
export type OwnPaperWords = Readonly<Record<string, string>>

/** What stands for the order's own facts in a text. */
const BLANKS = ['customer', 'order', 'deposit', 'owed'] as const

export type PaperBlanks = Readonly<Record<(typeof BLANKS)[number], string>>

const KINDS = Object.keys(PAPER_TITLES) as PaperKind[]

const DEPOSIT = '{deposit} with the order; the order counts once it is paid.'

/** Between opening and closing: what only some papers say. */
const BUILT_IN: Partial<
  Readonly<Record<PaperKind, readonly (readonly [name: string, label: string, text: string])[]>>
> = {
  quote: [
    ['opening', 'Opening', 'A fixed price for the work above.'],
    ['deposit', 'Deposit', DEPOSIT],
  ],
  estimate: [
    ['opening', 'Opening', 'A best guess: the price follows the hours that the work takes.'],
    ['range', 'Range', '4 chances in 5 it costs no more than the higher total.'],
    ['deposit', 'Deposit', DEPOSIT],
  ],
  confirmation: [['deposit', 'Deposit', DEPOSIT]],
  'delay-note': [
    ['opening', 'Opening', 'I am sorry: your order takes longer than I said.'],
    [
      'silence',
      'Choice, where no answer is a yes',
      'You can keep the order with the new day, or cancel it and get everything back that you paid. If I hear nothing, I take it that the new day suits you.',
    ],
    [
      'answer',
      'Choice, where an answer is needed',
      'You can keep the order with the new day, or cancel it and get everything back that you paid. Please tell me which.',
    ],
  ],
}

/** Every text of every paper that can be changed, in the order in which it is printed. */
export const PAPER_WORDS: readonly PaperWord[] = KINDS.flatMap((kind) => {
  const own = BUILT_IN[kind] ?? []
  const opening = own.some(([name]) => name === 'opening') ? [] : [['opening', 'Opening', ''] as const]
  return [...opening, ...own, ['closing', 'Closing', ''] as const].map(([name, label, text]) => ({
    ...{ kind, name, label, text },
  }))
})

const keyOf = ({ kind, name }: Pick<PaperWord, 'kind' | 'name'>): string => `${kind}.${name}`

/** A text as this shop says it, its blanks filled in; empty: it is left out. */
export function paperWord(of: Pick<PaperWord, 'kind' | 'name'>, own: OwnPaperWords, blanks: PaperBlanks): string {
  const text = own[keyOf(of)] ?? builtIn(of)
  return BLANKS.reduce((said, blank) => said.replaceAll(`{${blank}}`, blanks[blank]), text)
}

/** A text as the shop says it, its blanks open. */
export const ownWordOf = (of: Pick<PaperWord, 'kind' | 'name'>, own: OwnPaperWords): string =>
  own[keyOf(of)] ?? builtIn(of)

const builtIn = ({ kind, name }: Pick<PaperWord, 'kind' | 'name'>): string =>
  PAPER_WORDS.find((word) => word.kind === kind && word.name === name)?.text ?? ''

const MOST_LETTERS = 1_000

/**
 * The shop's words with one of them as typed; typed as built in, it is the shop's own no more.
 * @returns problems `too-long`; `blank` for braces around anything else; `food-safe`, which only the finish's own label may say
 */
export function withPaperWord(of: PaperWord, own: OwnPaperWords, typed: string): Result<OwnPaperWords> {
  const text = typed.trim()
  if (text.length > MOST_LETTERS) return failed(problem('too-long', `Use ${MOST_LETTERS} letters at most.`))
  const wrong = [...text.matchAll(/\{([^{}]*)\}/g)].find(
    ([, blank]) => !(BLANKS as readonly string[]).includes(blank ?? ''),
  )
  if (wrong !== undefined)
    return failed(problem('blank', `${wrong[0]} is not known. Use ${BLANKS.map((blank) => `{${blank}}`).join(', ')}.`))
  if (/food[\s-]*safe/i.test(text))
    return failed(problem('food-safe', 'Leave “food safe” to the label: say “see the label of the finish”.'))
  const { [keyOf(of)]: _, ...others } = own
  return ok(text === of.text ? others : { ...others, [keyOf(of)]: text })
}
