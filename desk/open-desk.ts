import { mkdir } from 'node:fs/promises'
import { ok, type Result } from '../core/problems.ts'
import { settableClock } from './clock.ts'
import type { Desk, DeskEvent, DeskOptions } from './desk.ts'
import { answer } from './procedure.ts'
import { procedures, testProcedures } from './procedures.ts'

/** Opens the shop in a data folder, which is made when missing. */
export async function openDesk({ dataFolder, clock, demo, forTests }: DeskOptions): Promise<Result<Desk>> {
  await mkdir(dataFolder, { recursive: true })
  const listeners = new Set<(event: DeskEvent) => void>()
  const tell = (event: DeskEvent): void => listeners.forEach((listener) => listener(event))

  const context = { clock, demo }
  const testContext = {
    clock: settableClock(clock.nowMs()),
    demo,
    tellNotice: (notice: Extract<DeskEvent, { kind: 'notice' }>['notice']) => tell({ kind: 'notice', notice }),
  }
  return ok({
    call: (name, input) =>
      forTests
        ? answer({ ...procedures, ...testProcedures }, testContext, name, input, { checkJson: true })
        : answer(procedures, context, name, input),
    onEvent(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    close: () => Promise.resolve(listeners.clear()),
  })
}
