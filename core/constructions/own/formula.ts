import { failed, ok, problem, type Result } from '../../problems.ts'
import { tokensOf, type Token } from './formula-tokens.ts'

/**
 * A formula of numbers, names of fields and a few functions, as makers write it in a cell: `ceil(width / stave) * 2 + 4`,
 * `if(lid, 15, 0)`. Comparisons, `and`, `or` and `not` give 1 or 0. It is read once into a tree and reckoned from that; nothing
 * in it can run or reach anything else.
 */
export interface Formula {
  readonly text: string
  /** Names of fields that it uses. */
  readonly names: ReadonlySet<string>
  /** Its value for the given fields; a problem where it divides by nothing or is no number. */
  evaluate(values: ReadonlyMap<string, number>): Result<number>
}

/** Reads a formula that may use these names. */
export function readFormula(text: string, known: ReadonlySet<string>): Result<Formula> {
  if (text.trim() === '')
    return failed(problem('formula-missing', 'No formula yet: type a number, or something like width * 2.'))
  if (text.length > LONGEST) return failed(problem('formula-too-long', `A formula has at most ${LONGEST} characters.`))
  const tokens = tokensOf(text)
  if (!tokens.ok) return tokens
  const reading: Reading = { tokens: tokens.value, at: 0, depth: 0, known, names: new Set(), wrong: null }
  const tree = readOr(reading)
  const left = reading.tokens[reading.at]
  if (reading.wrong === null && left !== undefined) refuse(reading, `“${left.text}” does not belong there`)
  if (reading.wrong !== null) return failed(problem('formula-unreadable', `“${text.trim()}”: ${reading.wrong}.`))
  return ok({ text: text.trim(), names: reading.names, evaluate: (values) => valueOf(tree, values, text.trim()) })
}

/** Names that fields cannot have. */
export const FORMULA_WORDS: ReadonlySet<string> = new Set([
  'and',
  'or',
  'not',
  'if',
  'min',
  'max',
  'ceil',
  'floor',
  'round',
  'abs',
])

const LONGEST = 300
const DEEPEST = 40

type Tree =
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'call'; readonly call: string; readonly of: readonly Tree[] }

interface Reading {
  readonly tokens: readonly Token[]
  at: number
  depth: number
  readonly known: ReadonlySet<string>
  readonly names: Set<string>
  wrong: string | null
}

const NOTHING: Tree = { kind: 'number', value: NaN }

const readOr = (reading: Reading): Tree => readChain(reading, ['or'], readAnd)
const readAnd = (reading: Reading): Tree => readChain(reading, ['and'], readComparison)
const readComparison = (reading: Reading): Tree => readChain(reading, ['<', '<=', '>', '>=', '=', '<>'], readSum)
const readSum = (reading: Reading): Tree => readChain(reading, ['+', '-'], readProduct)
const readProduct = (reading: Reading): Tree => readChain(reading, ['*', '/'], readSigned)

/** Operators of one rank, from left to right. */
function readChain(reading: Reading, operators: readonly string[], next: (reading: Reading) => Tree): Tree {
  let tree = next(reading)
  for (;;) {
    const token = reading.tokens[reading.at]
    if (token === undefined || !operators.includes(token.text) || reading.wrong !== null) return tree
    reading.at += 1
    tree = { kind: 'call', call: token.text, of: [tree, next(reading)] }
  }
}

function readSigned(reading: Reading): Tree {
  const token = reading.tokens[reading.at]
  if (token?.text !== '-' && token?.text !== 'not') return readAtom(reading)
  reading.at += 1
  return deeper(reading, () => ({
    kind: 'call',
    call: token.text === '-' ? 'minus' : 'not',
    of: [readSigned(reading)],
  }))
}

function readAtom(reading: Reading): Tree {
  const token = reading.tokens[reading.at]
  reading.at += 1
  if (token === undefined) return refuse(reading, 'it ends too early')
  if (token.kind === 'number') return { kind: 'number', value: Number(token.text) }
  if (token.text === '(')
    return closed(
      reading,
      deeper(reading, () => readOr(reading)),
    )
  if (token.kind !== 'name') return refuse(reading, `“${token.text}” does not belong there`)
  if (ARGUMENTS.has(token.text)) return readCall(reading, token.text)
  if (!reading.known.has(token.text)) return refuse(reading, unknownName(token.text, reading.known))
  reading.names.add(token.text)
  return { kind: 'name', name: token.text }
}

/** How many values each function takes: least and most. */
const ARGUMENTS: ReadonlyMap<string, readonly [least: number, most: number]> = new Map([
  ['if', [3, 3]],
  ['min', [1, 20]],
  ['max', [1, 20]],
  ['ceil', [1, 1]],
  ['floor', [1, 1]],
  ['round', [1, 1]],
  ['abs', [1, 1]],
])

function readCall(reading: Reading, name: string): Tree {
  if (reading.tokens[reading.at]?.text !== '(') return refuse(reading, `after ${name} comes a bracket: ${name}(...)`)
  reading.at += 1
  const of: Tree[] = []
  do {
    of.push(deeper(reading, () => readOr(reading)))
  } while (reading.wrong === null && reading.tokens[reading.at]?.text === ',' && (reading.at += 1) > 0)
  const [least, most] = ARGUMENTS.get(name) ?? [1, 1]
  if (reading.wrong === null && (of.length < least || of.length > most)) {
    return refuse(
      reading,
      `${name} takes ${least === most ? least : `${least} to ${most}`} ${most === 1 ? 'value' : 'values'}, not ${of.length}`,
    )
  }
  return closed(reading, { kind: 'call', call: name, of })
}

function closed(reading: Reading, tree: Tree): Tree {
  if (reading.wrong === null && reading.tokens[reading.at]?.text !== ')')
    return refuse(reading, 'a bracket is not closed')
  reading.at += 1
  return tree
}

function deeper(reading: Reading, read: () => Tree): Tree {
  reading.depth += 1
  if (reading.depth > DEEPEST) return refuse(reading, 'too many brackets within brackets')
  const tree = read()
  reading.depth -= 1
  return tree
}

function refuse(reading: Reading, wrong: string): Tree {
  reading.wrong ??= wrong
  reading.at = reading.tokens.length
  return NOTHING
}

const unknownName = (name: string, known: ReadonlySet<string>): string =>
  known.size === 0 ? `there is no field “${name}”` : `there is no field “${name}”; there are ${[...known].join(', ')}`

function valueOf(tree: Tree, values: ReadonlyMap<string, number>, text: string): Result<number> {
  const value = reckon(tree, values)
  // Adding nothing makes a plain 0 of -0.
  if (Number.isFinite(value)) return ok(value + 0)
  return failed(problem('formula-value', `“${text}” gives no number with these sizes: does it divide by nothing?`))
}

function reckon(tree: Tree, values: ReadonlyMap<string, number>): number {
  if (tree.kind === 'number') return tree.value
  if (tree.kind === 'name') return values.get(tree.name) ?? NaN
  // Only the branch that counts is reckoned, so that if(n > 0, a / n, 0) is safe.
  if (tree.call === 'if') return reckon(tree.of[reckon(tree.of[0] ?? NOTHING, values) === 0 ? 2 : 1] ?? NOTHING, values)
  return apply(
    tree.call,
    tree.of.map((one) => reckon(one, values)),
  )
}

function apply(call: string, of: readonly number[]): number {
  const [a = NaN, b = NaN] = of
  switch (call) {
    case '+':
      return a + b
    case '-':
      return a - b
    case '*':
      return a * b
    case '/':
      return a / b
    case '<':
      return truth(a < b)
    case '<=':
      return truth(a <= b)
    case '>':
      return truth(a > b)
    case '>=':
      return truth(a >= b)
    case '=':
      return truth(a === b)
    case '<>':
      return truth(a !== b)
    case 'and':
      return truth(a !== 0 && b !== 0)
    case 'or':
      return truth(a !== 0 || b !== 0)
    case 'not':
      return truth(a === 0)
    case 'minus':
      return -a
    case 'min':
      return Math.min(...of)
    case 'max':
      return Math.max(...of)
    case 'ceil':
      // What sums of fractions leave over is not one more strip.
      return Math.ceil(a - 1e-9)
    case 'floor':
      return Math.floor(a + 1e-9)
    case 'round':
      return Math.round(a)
    case 'abs':
      return Math.abs(a)
    default:
      return NaN
  }
}

const truth = (holds: boolean): number => (holds ? 1 : 0)
