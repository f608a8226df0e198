import type { PlanMaker } from './model.ts'

/** Whoever has not given a name yet is called so in the Almanac. */
const isReader = ({ name }: Pick<PlanMaker, 'name'>): boolean => name.trim().toLowerCase() === 'me'

/** " for Wren"; nothing where one person works alone, as it goes without saying. */
export const forMaker = (maker: Pick<PlanMaker, 'name'>, all: readonly PlanMaker[]): string =>
  all.length < 2 ? '' : ` for ${isReader(maker) ? 'you' : maker.name}`

/** "Wren is", "you’re". */
export const makerIs = (maker: Pick<PlanMaker, 'name'>): string => (isReader(maker) ? 'you’re' : `${maker.name} is`)
