/** Something that tests need from the machine: there, or missing for a reason that is reported. */
export type Means<T> = { readonly there: true; readonly value: T } | { readonly there: false; readonly why: string }

export const available = <T>(value: T): Means<T> => ({ there: true, value })

export const missing = (why: string): Means<never> => ({ there: false, why })
