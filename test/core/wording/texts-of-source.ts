import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'svelte/compiler'
import ts from 'typescript'

/** One text that a person may read, with the place that says it. `…` stands for what is put in when the program runs. */
export interface Said {
  readonly file: string
  readonly line: number
  readonly text: string
}

const ROOT = join(import.meta.dirname, '../../..')

/** Folders whose strings reach screens, papers, notices or error messages. */
const SPEAKING_FOLDERS = ['core', 'db', 'desk', 'electron', 'renderer'] as const

/** Attributes of markup that nobody reads or hears. */
const MACHINE_ATTRIBUTES = new Set(['class', 'style', 'd', 'viewBox', 'transform', 'points', 'id', 'for', 'name'])

/** A text for people has a space between two letters or starts like a sentence; what is left are ids, classes and keys. */
const forPeople = (text: string): boolean =>
  /[A-Za-z]{2}/.test(text) && (/\S \S/.test(text) || /^[A-Z][a-z]/.test(text)) && !SQL.test(text)

const SQL = /^\s*(select\s[^]*\sfrom|insert into|update \w+ set|delete from|create (table|trigger|index))\s/

/** Sources and SQL are not spoken: citations keep their own wording. */
const NOT_SPOKEN_KEYS = new Set(['source', 'citation', 'cite', 'url', 'class', 'style', 'd'])

function notSpoken(node: ts.Node): boolean {
  const parent = node.parent
  if (parent === undefined) return false
  if (ts.isImportDeclaration(parent) || ts.isExportDeclaration(parent) || ts.isLiteralTypeNode(parent)) return true
  if (ts.isPropertyAssignment(parent) && parent.initializer === node)
    return NOT_SPOKEN_KEYS.has(parent.name.getText().replaceAll(/['"]/g, ''))
  if (ts.isNewExpression(parent) && /Error$/.test(parent.expression.getText())) return true
  if (ts.isTaggedTemplateExpression(parent)) return true
  return false
}

function textsOfScript(file: string, code: string, firstLine: number): Said[] {
  const source = ts.createSourceFile(file, code, ts.ScriptTarget.Latest, true)
  const said: Said[] = []
  const add = (node: ts.Node, text: string): void => {
    if (!forPeople(text)) return
    const { line } = source.getLineAndCharacterOfPosition(node.getStart())
    said.push({ file, line: line + firstLine, text: text.replaceAll(/\s+/g, ' ').trim() })
  }
  const visit = (node: ts.Node): void => {
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) {
      if (!notSpoken(node)) add(node, node.text)
    } else if (ts.isTemplateExpression(node)) {
      if (!notSpoken(node))
        add(node, node.head.text + node.templateSpans.map((span) => `…${span.literal.text}`).join(''))
    }
    ts.forEachChild(node, visit)
  }
  visit(source)
  return said
}

interface MarkupNode {
  readonly type?: string
  readonly start?: number
  readonly end?: number
  readonly [key: string]: unknown
}

const isNode = (value: unknown): value is MarkupNode =>
  typeof value === 'object' && value !== null && typeof (value as MarkupNode).type === 'string'

/** Texts, spoken attributes and the expressions of one component's markup. */
function textsOfMarkup(file: string, code: string): Said[] {
  const root = parse(code, { modern: true })
  const said: Said[] = []
  const lineOf = (position: number): number => code.slice(0, position).split('\n').length
  const scripts = [root.instance, root.module].filter((script) => script != null)
  for (const script of scripts) {
    const content = script.content as unknown as { start: number; end: number }
    said.push(...textsOfScript(file, code.slice(content.start, content.end), lineOf(content.start)))
  }
  const expression = (node: MarkupNode): void => {
    const inner = code.slice(node.start, node.end)
    said.push(...textsOfScript(file, `(${inner})`, lineOf(node.start ?? 0)))
  }
  const words = (nodes: readonly unknown[], at: number): void => {
    const text = nodes
      .map((node) => (isNode(node) ? (node.type === 'Text' ? String(node['data']) : '…') : ''))
      .join('')
      .replaceAll(/\s+/g, ' ')
      .trim()
    if (/[A-Za-z]{2}/.test(text)) said.push({ file, line: lineOf(at), text })
  }
  const visit = (node: MarkupNode): void => {
    if (node.type === 'Fragment') {
      let run: MarkupNode[] = []
      const flush = (): void => {
        if (run.some((one) => one.type === 'Text')) words(run, run[0]?.start ?? 0)
        run = []
      }
      for (const child of node['nodes'] as MarkupNode[]) {
        if (child.type === 'Text' || child.type === 'ExpressionTag') run.push(child)
        else flush()
        visit(child)
      }
      flush()
      return
    }
    if (node.type === 'Attribute') {
      const value = node['value']
      const parts = Array.isArray(value) ? (value as unknown[]) : [value]
      const name = String(node['name'])
      if (MACHINE_ATTRIBUTES.has(name)) return
      if (
        Array.isArray(value) &&
        forPeople(parts.map((p) => (isNode(p) && p.type === 'Text' ? String(p['data']) : '…')).join(''))
      )
        words(parts, node.start ?? 0)
      for (const part of parts) if (isNode(part) && part.type === 'ExpressionTag') visit(part)
      return
    }
    if (node.type === 'ExpressionTag') {
      expression(node['expression'] as MarkupNode)
      return
    }
    for (const [key, value] of Object.entries(node)) {
      if (key === 'expression' || key === 'test' || key === 'parameters' || key === 'context') {
        if (isNode(value) && value.start !== undefined && key !== 'context') expression(value)
        continue
      }
      if (Array.isArray(value)) for (const one of value) if (isNode(one)) visit(one)
      if (isNode(value)) visit(value)
    }
  }
  visit(root.fragment as unknown as MarkupNode)
  return said
}

/** Every text in the code of screens, papers, notices and errors, file by file. */
export function textsOfSource(): readonly Said[] {
  return SPEAKING_FOLDERS.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(svelte|ts)$/.test(name) && !name.endsWith('.d.ts'))
      .sort()
      .flatMap((name) => {
        const file = `${folder}/${name}`
        const code = readFileSync(join(ROOT, file), 'utf8')
        return name.endsWith('.svelte') ? textsOfMarkup(file, code) : textsOfScript(file, code, 1)
      }),
  )
}

/** Messages that stand under a field: `problem(code, message, field)`. */
export function textsUnderFields(): readonly Said[] {
  return ['core', 'desk'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
      .sort()
      .flatMap((name) => messagesUnderFields(`${folder}/${name}`)),
  )
}

function messagesUnderFields(file: string): Said[] {
  const source = ts.createSourceFile(file, readFileSync(join(ROOT, file), 'utf8'), ts.ScriptTarget.Latest, true)
  const said: Said[] = []
  const visit = (node: ts.Node): void => {
    if (ts.isCallExpression(node) && /^problem(Of)?$/.test(node.expression.getText()) && node.arguments.length > 2) {
      const message = node.arguments[1]
      const text =
        message !== undefined && ts.isStringLiteralLike(message)
          ? message.text
          : message !== undefined && ts.isTemplateExpression(message)
            ? message.head.text + message.templateSpans.map((span) => `…${span.literal.text}`).join('')
            : null
      const { line } = source.getLineAndCharacterOfPosition(node.getStart())
      if (text !== null) said.push({ file, line: line + 1, text })
    }
    ts.forEachChild(node, visit)
  }
  visit(source)
  return said
}
