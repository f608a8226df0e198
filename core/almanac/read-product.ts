import type { Units } from '../constructions/construction.ts'
import { failed, ok, problem, type Problem, type Result } from '../problems.ts'
import { finishClass } from '../waits/finish-classes.ts'
import { glueClass } from '../waits/glue-classes.ts'
import { clockNames, type LabelRange } from '../waits/product.ts'
import type { Almanac, ProductOnShelf } from './almanac.ts'
import { readFraction, readRange, readTemperature, readWhole } from './read-figures.ts'
import { readInterval, readSpread, readTable } from './read-label.ts'
import { unlessProblems, idOf, requiredName, refuseTwice, take } from './read-listed.ts'

/** A glue or finish as typed; `label` holds what its label says, empty texts are left to the class. */
export interface ProductInput {
  readonly id: string
  readonly class: string
  readonly name: string
  readonly label: { readonly [quantity: string]: string }
}

export const readGlue = (input: ProductInput, almanac: Almanac): Result<ProductOnShelf> =>
  readProduct(input, almanac.glues, almanac.finishes, glueClass(input.class)?.name ?? null, almanac.shop.units)

export const readFinish = (input: ProductInput, almanac: Almanac): Result<ProductOnShelf> =>
  readProduct(input, almanac.finishes, almanac.glues, finishClass(input.class)?.name ?? null, almanac.shop.units)

function readProduct(
  input: ProductInput,
  shelf: readonly ProductOnShelf[],
  otherShelf: readonly ProductOnShelf[],
  className: string | null,
  units: Units,
): Result<ProductOnShelf> {
  const problems: Problem[] = []
  const name = requiredName(input.name, 'What does the maker call it? Type a name.', problems)
  refuseTwice(shelf, input.id, name, problems)
  if (className === null)
    problems.push(problem('class', 'Choose a class of product: its times come from there.', 'class'))
  const label: Record<string, LabelRange> = {}
  for (const [quantity, text] of Object.entries(input.label)) {
    if (text.trim() === '' || quantity === 'table') continue
    const range = take(readLabel(quantity, text, { ...input, label: {} }, units), `label.${quantity}`, problems)
    if (range !== null) label[quantity] = range
  }
  const table = take(readTable(input.label['table'] ?? '', units), 'label.table', problems) ?? []
  return unlessProblems(
    {
      ...{ id: idOf(input.id, name, [...shelf, ...otherShelf]), class: input.class, name, label },
      ...(table.length === 0 ? {} : { table }),
    },
    problems,
  )
}

const DEADLINES: ReadonlySet<string> = new Set(['open', 'assembly', 'recoatCloses'])

/** One figure of a label: times for clocks, degrees, percent or counts for the rest. */
export function readLabel(
  quantity: string,
  text: string,
  product: Omit<ProductOnShelf, 'id'>,
  units: Units,
): Result<LabelRange> {
  const single = (read: Result<number>): Result<LabelRange> =>
    read.ok ? ok({ min: read.value, typical: read.value, max: read.value }) : read
  switch (quantity) {
    case 'coldestC':
      return single(readTemperature(text, 'Coldest', units))
    case 'warmestC':
      return single(readTemperature(text, 'Warmest', units))
    case 'dampestRh':
      return single(readFraction(text, 'Dampest air', 0.05))
    case 'spreadGsm':
      return readSpread(text)
    case 'doublingC':
      return single(readInterval(text, units))
    case 'coats':
      return single(readWhole(text, 'Coats', 1, 20))
    default:
      if (clockNames(product).some((name) => name === quantity) || quantity === 'recoatCloses')
        return readRange(text, 'Label', DEADLINES.has(quantity) ? 'deadline' : 'wait')
      return failed(problem('label', `A label has no “${quantity}” that is planned with.`))
  }
}
