import { shop } from '../shop.svelte.ts'
import { toneOf, type WoodTone } from './wood-tones.ts'

const woodOf = (id: string) => shop.almanac?.woods.find((wood) => wood.id === id)

/** What customers are told; a wood that has left the almanac keeps its id. */
export const woodName = (id: string): string => woodOf(id)?.name ?? id

/** How dark it is drawn. */
export const woodTone = (id: string): WoodTone => toneOf(woodOf(id)?.species ?? id)
