import type { Desk } from '../../desk/desk.ts'
import { openDesk } from '../../desk/open-desk.ts'

/** A desk over a trial's folder, at the instant that its clock tells. Throws where it does not open. */
export async function trialDesk(folder: string, nowMs: () => number): Promise<Desk> {
  const opened = await openDesk({
    where: 'a trial',
    dataFolder: folder,
    demo: false,
    forTests: true,
    clock: { nowMs },
  })
  if (!opened.ok) throw new Error(opened.problems[0]?.message)
  return opened.value
}
