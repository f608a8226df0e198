import { z } from 'zod'
import { procedures } from '../../desk/procedures.ts'
import { draftOf } from '../large-book.ts'
import { type Form, inputFor } from './made-up-input.ts'
import { share, type Trial } from './trial.ts'
import { trialDesk } from './trial-desk.ts'
import { NOW_MS } from './whole-book.ts'

/** These open windows of the system, or another book, and are tried elsewhere. */
const LEFT_OUT = new Set(['showDataFolder', 'openBackup', 'beginAnew', 'bringIn', 'bringPart'])

/**
 * Calls of the real table with made-up inputs: of the right form with ids that are there, and hostile ones. None may end in a
 * fault, and the shop answers afterwards.
 */
export const everyProcedure: Trial = async ({ scale, random, isOver, folder }) => {
  const most = share(100_000, scale)
  let runs = 0
  const broken: string[] = []
  const desk = await trialDesk(folder, () => NOW_MS)
  for (let at = 0; at < 3; at++)
    await desk.call('takeOrder', {
      draft: draftOf(at),
      standing: at === 0 ? 'asked-about' : 'agreed',
      promisedFor: null,
    })
  const forms = Object.entries(procedures)
    .filter(([name]) => !LEFT_OUT.has(name))
    .map(([name, { input }]) => [name, z.toJSONSchema(input, { unrepresentable: 'any', io: 'input' }) as Form] as const)
  const known = ['']
  const accepted = new Map<string, number>()
  for (; runs < most && !isOver(); runs++) {
    const [name, form] = forms[Math.floor(random() * forms.length)]!
    const input = inputFor(form, random, known)
    const reply = await desk.call(name, input)
    if (reply.ok) {
      accepted.set(name, (accepted.get(name) ?? 0) + 1)
      collectIds(reply.value, known, random)
    } else if (reply.problems.some(({ code }) => code === 'fault'))
      broken.push(`${name}(${JSON.stringify(input)?.slice(0, 300)})`)
  }
  const still = await desk.call('orderBook', {})
  if (!still.ok) broken.push(`afterwards: ${still.problems[0]?.message}`)
  await desk.close()
  const sum = [...accepted.values()].reduce((all, count) => all + count, 0)
  return { runs, said: `${sum} accepted, of ${accepted.size} of ${forms.length} procedures`, broken }
}

/** Texts of an answer that look like ids, for calls to come. */
function collectIds(value: unknown, known: string[], random: () => number): void {
  if (typeof value === 'string') {
    if (value.length > 0 && value.length < 64 && /^[\w/-]+$/.test(value)) known[Math.floor(random() * 400)] = value
  } else if (value !== null && typeof value === 'object')
    for (const inside of Object.values(value).slice(0, 30)) collectIds(inside, known, random)
}
