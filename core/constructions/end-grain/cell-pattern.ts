/** Which wood each cell of a field has: rows from the far edge to the near one, cells from left to right, wood ids. */
export type CellPattern = readonly (readonly string[])[]

/** Strips of one panel in order, and how many slices of it the field takes. Slices may be turned end for end. */
export interface PanelKind {
  readonly strips: readonly string[]
  readonly slices: number
  /** How many of the slices are turned. */
  readonly turned: number
}

/** How a field of cells is built: from slices that lie across it (each slice is a row) or along it (each a column). */
export interface PanelPlan {
  readonly slicesAre: 'rows' | 'columns'
  readonly kinds: readonly PanelKind[]
}

/** Alternating woods both ways. */
export const chequer = (across: number, along: number, woods: readonly string[]): CellPattern =>
  fieldOf(across, along, (row, column) => woods[(row + column) % woods.length])

/** Each row alike, woods alternating from left to right. */
export const stripes = (across: number, along: number, woods: readonly string[]): CellPattern =>
  fieldOf(across, along, (_, column) => woods[column % woods.length])

/** Typed rows repeated along the field, and each row's cells across it. */
export const repeatedRows = (across: number, along: number, rows: CellPattern): CellPattern =>
  fieldOf(across, along, (row, column) => {
    const cells = rows[row % rows.length] ?? []
    return cells[column % cells.length]
  })

/**
 * The fewest kinds of panel from which the pattern can be sliced. A chequer with an odd number of cells in a row needs two kinds,
 * because a turned slice then begins with the same wood; slicing the other way may still need only one.
 */
export function panelPlan(pattern: CellPattern): PanelPlan {
  const rows = panelKinds(pattern)
  const columns = panelKinds(turnedQuarter(pattern))
  return columns.length < rows.length ? { slicesAre: 'columns', kinds: columns } : { slicesAre: 'rows', kinds: rows }
}

function panelKinds(slices: CellPattern): PanelKind[] {
  const kinds = new Map<string, PanelKind>()
  for (const cells of slices) {
    const straight = cells.join(' ')
    const turned = cells.toReversed().join(' ')
    const known = kinds.get(straight)
    const mirror = kinds.get(turned)
    if (known !== undefined) kinds.set(straight, { ...known, slices: known.slices + 1 })
    else if (mirror !== undefined)
      kinds.set(turned, { ...mirror, slices: mirror.slices + 1, turned: mirror.turned + 1 })
    else kinds.set(straight, { strips: cells, slices: 1, turned: 0 })
  }
  return [...kinds.values()]
}

const turnedQuarter = (pattern: CellPattern): CellPattern =>
  (pattern[0] ?? []).map((_, column) => pattern.map((row) => row[column] ?? ''))

function fieldOf(
  across: number,
  along: number,
  woodAt: (row: number, column: number) => string | undefined,
): CellPattern {
  return Array.from({ length: along }, (_, row) =>
    Array.from({ length: across }, (_, column) => woodAt(row, column) ?? ''),
  )
}
