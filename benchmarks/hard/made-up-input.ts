/** A JSON Schema, as far as the forms of the procedures use it. */
export interface Form {
  readonly type?: string | readonly string[]
  readonly const?: unknown
  readonly enum?: readonly unknown[]
  readonly anyOf?: readonly Form[]
  readonly oneOf?: readonly Form[]
  readonly properties?: Readonly<Record<string, Form>>
  readonly required?: readonly string[]
  readonly items?: Form
  readonly additionalProperties?: Form | boolean
  readonly minimum?: number
  readonly maximum?: number
}

const HOSTILE: readonly unknown[] = [
  ...[null, true, -1, 0, 1e308, Number.MAX_SAFE_INTEGER, 0.1, '', ' ', '\u0000', '<script>', "'; drop table log; --"],
  ...['1e2', '9999-12-31', '0100-01-01', '2026-02-30', '__proto__', 'x'.repeat(3000), [], {}, [[]], { constructor: 1 }],
]
const TEXTS: readonly string[] = [
  ...[
    '12',
    '3/4',
    '1 1/2',
    '20 C',
    '50 %',
    '7 PM',
    '45 min',
    '2026-12-05',
    '2026-03-10',
    'walnut',
    'agreed',
    'Ada',
    '555-0100',
  ],
  ...['end-grain-board', 'box', 'makers', 'shop.name', 'stations.clamps', '100.50', 'yes', 'none'],
]

/** An input of the form, now and then with something in it that does not belong there. */
export function inputFor(form: Form, random: () => number, known: readonly string[]): unknown {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T
  const make = (part: Form, depth: number): unknown => {
    if (random() < 0.01) return pick(HOSTILE)
    if (part.const !== undefined) return part.const
    if (part.enum !== undefined) return pick(part.enum)
    const either = part.anyOf ?? part.oneOf
    if (either !== undefined) return make(pick(either), depth)
    switch (Array.isArray(part.type) ? pick(part.type as readonly string[]) : part.type) {
      case 'object':
        return object(part, depth)
      case 'array':
        return Array.from({ length: depth > 4 ? 0 : Math.floor(random() * 3) }, () => make(part.items ?? {}, depth + 1))
      case 'integer':
      case 'number':
        return number(part)
      case 'boolean':
        return random() < 0.5
      case 'null':
        return null
      default:
        return random() < 0.6 ? (pick(known) ?? '') : pick(TEXTS)
    }
  }
  const object = ({ properties = {}, required = [], additionalProperties }: Form, depth: number): unknown => {
    const made = Object.entries(properties)
      .filter(([name]) => required.includes(name) || random() < 0.5)
      .map(([name, part]) => [name, make(part, depth + 1)] as const)
    const more =
      typeof additionalProperties === 'object' && random() < 0.5
        ? [[pick(TEXTS), make(additionalProperties, depth + 1)] as const]
        : []
    return Object.fromEntries([...made, ...more])
  }
  const number = ({ type, minimum = -1000, maximum = 1000 }: Form): number => {
    const value = minimum + random() * (Math.min(maximum, minimum + 5000) - minimum)
    return type === 'number' ? value : Math.round(value)
  }
  return make(form, 0)
}
