import { failed, ok, problem, type Result } from '../../problems.ts'

export interface Token {
  readonly kind: 'number' | 'name' | 'sign'
  readonly text: string
}

/** A formula cut into numbers, names and signs. Decimal points only: a comma parts the values of a function. */
export function tokensOf(text: string): Result<readonly Token[]> {
  const tokens: Token[] = []
  let rest = plain(text)
  while (rest !== '') {
    const token = nextToken(rest)
    if (token === null)
      return failed(
        problem('formula-unreadable', `“${text.trim()}”: “${rest.slice(0, 1)}” is not a sign of a formula.`),
      )
    tokens.push(token)
    rest = rest.slice(token.text.length).trimStart()
  }
  return ok(tokens)
}

/** Signs that keyboards and telephones write otherwise. */
const plain = (text: string): string =>
  text
    .trim()
    .replaceAll('×', '*')
    .replaceAll('÷', '/')
    .replaceAll('−', '-')
    .replaceAll('≤', '<=')
    .replaceAll('≥', '>=')
    .replaceAll('≠', '<>')
    .replaceAll('!=', '<>')
    .replaceAll('==', '=')

function nextToken(rest: string): Token | null {
  const number = /^(?:\d+\.?\d*|\.\d+)/.exec(rest)
  if (number !== null) return { kind: 'number', text: number[0] }
  const name = /^[A-Za-z_][A-Za-z0-9_]*/.exec(rest)
  if (name !== null) return { kind: 'name', text: name[0] }
  const sign = /^(?:<=|>=|<>|[-+*/()<>=,])/.exec(rest)
  return sign === null ? null : { kind: 'sign', text: sign[0] }
}
