import type { ConstructionWriting } from './construction-writing.svelte.ts'

/** The construction that is being written, in place of the Almanac's pages; kept while other screens are open. */
class ConstructionOpen {
  writing = $state.raw<ConstructionWriting | null>(null)
}

export const constructionOpen = new ConstructionOpen()
