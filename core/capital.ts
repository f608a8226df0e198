/** A text with a capital in front, as a sentence or a line begins. */
export const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
