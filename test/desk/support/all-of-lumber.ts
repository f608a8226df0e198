import type { TestDesk } from './a-desk.ts'

/** Everything that the pages of Lumber show of agreed orders. */
export const allOfLumber = async (ask: TestDesk['ask']) => ({
  lists: await ask.timber({ askedAbout: false, lines: 24 }),
  wood: await ask.woodToCut({ askedAbout: false }),
  plan: await ask.cuttingPlan({ askedAbout: false }),
})
