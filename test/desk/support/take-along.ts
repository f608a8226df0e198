import type { Reply } from '../../../desk/procedure.ts'
import type { TakeAlong } from '../../../desk/open-formats/take-along.ts'
import type { TestDesk } from './a-desk.ts'

export const taken = async ({ ask }: TestDesk, what: TakeAlong): Promise<string> => (await ask.takeAlong({ what })).text

/** Brings a whole shop in, which comes in parts and is looked at first. */
export async function bring({ call }: TestDesk, text: string, parts = 3): Promise<Reply<unknown>> {
  const size = Math.ceil(text.length / parts)
  for (let index = 0; index < parts; index++)
    await call.bringPart({ id: 'one', index, text: text.slice(index * size, (index + 1) * size) })
  const looked = await call.bringLook({ id: 'one', parts })
  return looked.ok ? call.bringIn({ id: 'one' }) : looked
}
