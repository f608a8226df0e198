/** How dark a wood is drawn; three tones are enough to tell the woods of one piece apart. */
export type WoodTone = 'dark' | 'middle' | 'light'

const DARK = /walnut|purpleheart|wenge|ebony|rosewood|bubinga|padauk|ipe/i
const LIGHT = /maple|ash|birch|poplar|basswood|aspen|holly|spruce|pine|hackberry|sycamore/i

/**
 * The tone of a species by its name, as it looks with a clear finish.
 * @source common practice, no source
 */
export const toneOf = (species: string): WoodTone =>
  DARK.test(species) ? 'dark' : LIGHT.test(species) ? 'light' : 'middle'
