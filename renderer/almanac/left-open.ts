/** Forms of constructions that were left by going to another screen, by id: what was typed is there again on coming back. */
export const leftOpen = new Map<string, Record<string, string | boolean | Record<string, string | boolean>[]>>()
