import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { procedure } from '../in-shop.ts'
import { noInput } from '../procedure.ts'

const aCopy = z.strictObject({ file: z.string().max(200) })

/** Copies of the backups in a folder of the maker's choice, and the rescue of a damaged file. They need no open shop. */
export const copiesProcedures = {
  copiesElsewhere: procedure(noInput, (context) => ok(context.copies.view())),
  nameCopiesFolder: procedure(z.strictObject({ folder: z.string().max(1_000) }), async (context, { folder }) => {
    const named = context.copies.name(folder)
    if (!named.ok) return named
    await context.safekeeping.copyElsewhere()
    return ok(context.copies.view())
  }),
  forgetCopiesFolder: procedure(noInput, (context) => {
    const done = context.copies.forget()
    return done.ok ? ok(context.copies.view()) : done
  }),
  rescue: procedure(noInput, (context) => context.safekeeping.rescue()),
  openRescued: procedure(noInput, (context) => context.safekeeping.openRescued()),
  copyElsewhereLacks: procedure(aCopy, (context, { file }) => context.safekeeping.lackingElsewhere(file)),
  openCopyElsewhere: procedure(aCopy, (context, { file }) => context.safekeeping.openElsewhere(file)),
}
