import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import { randomStream } from '../../core/chance/seeded-random.ts'
import { examineFile } from '../../db/examine-file.ts'
import type { Reply } from '../../desk/procedure.ts'
import type { Moved } from '../../desk/moved.ts'
import { migrations } from '../../migrations/index.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { allOfLumber } from './support/all-of-lumber.ts'

/**
 * A hundred acts in random order, for as many seeds as fit into the time. `ACTS_SEEDS=1000 ACTS_SECONDS=36000` is the long run;
 * `ACTS_FIRST_SEED=17 ACTS_SEEDS=1` plays one seed again.
 */
const ACTS_EACH = 100
/** Share of the acts that are undone before the next one. */
const TAKEN_BACK_AT_ONCE = 0.15
const FIRST_SEED = Number(process.env['ACTS_FIRST_SEED'] ?? 1)
const SEEDS = Number(process.env['ACTS_SEEDS'] ?? 12)
const SECONDS = Number(process.env['ACTS_SECONDS'] ?? 60)
vi.setConfig({ testTimeout: (SECONDS + 240) * 1000 })

const row = (name: string, minutes: string, kind: string, wait = '') => ({
  ...{ name, minutes, kind, wait, atMost: '', after: '', dusty: false, units: kind === 'glue-up' ? '2' : '' },
})
const ROWS = [
  row('Cut the boards', '60 min', 'machine'),
  row('Glue the shelves', '30 min', 'glue-up', '4 h'),
  row('Sand them', '30 min', 'hand'),
  row('First coat', '15 min', 'coat', '12 h'),
  row('Pack them', '15 min', 'hand'),
]
const BOARD = {
  ...{ wood: 'walnut', thickness: '1"', width: '8"', length: '96"', flaws: '', quality: '', place: '' },
  ...{ price: '40', moisture: '' },
}
const ACTS = [
  ...['start', 'pause', 'done', 'already', 'right', 'move', 'fail', 'undo'],
  ...['change', 'add-step', 'leave-out', 'earlier', 'pay', 'board', 'board-gone', 'terms'],
  ...['hold', 'cancel', 'told', 'remind', 'pin'],
] as const
type Act = (typeof ACTS)[number]
/** Acts that may take logged minutes back, because that is what they are for. */
const TAKES_BACK: ReadonlySet<Act> = new Set(['undo', 'right'])

const steps = async ({ ask }: TestDesk, id: string) =>
  (await ask.commission({ id })).pieces.flatMap((each) => each.steps)
const worked = (of: Awaited<ReturnType<typeof steps>>): number =>
  of.reduce((sum, { workedMinutes }) => sum + (workedMinutes ?? 0), 0)

/** Book, stock and money as people see them; the plan is another one at another hour. */
async function shown(one: TestDesk, id: string) {
  const { pieces, customer, priceMinor, promisedFor, notes, money } = await one.ask.commission({ id })
  const { boards } = await one.ask.timber({ askedAbout: false, lines: 24 })
  return {
    ...{ customer, priceMinor, promisedFor, notes },
    paidMinor: money.standing.paidMinor,
    boards: boards.map((board) => board.number).sort((a, b) => a - b),
    pieces: pieces.map(({ piece }) => [piece.title, piece.count]),
    steps: pieces.flatMap((piece) =>
      piece.steps.map(({ stepId, name, lot, state, work, lost }) => ({ stepId, name, lot, state, work, lost })),
    ),
  }
}

/** All that an act may move, the plan with it: taken back in the same minute, it is as it was. Chances are worked out later, history has both. */
async function everything({ ask }: TestDesk, id: string) {
  const { history: _, odds: __, outlook: ___, whyFallen: ____, ...order } = await ask.commission({ id })
  const { canStart, comingUp, onTheBench } = await ask.bench({ rows: 24 })
  const { waiting, stations } = await ask.rack()
  return {
    order,
    stock: await allOfLumber(ask),
    plan: [canStart, comingUp, onTheBench].map((steps) => steps.map(({ stepId }) => stepId)),
    rack: { waiting, stations },
    madeAgain: (await ask.tally()).madeAgain,
  }
}

type Pick = <T>(from: readonly T[]) => T

/** One act at the steps as they are; null where there is nothing to do it to. */
async function doAct(
  act: Act,
  one: TestDesk,
  id: string,
  all: Awaited<ReturnType<typeof steps>>,
  means: { readonly pick: Pick; readonly random: () => number; readonly day: string },
): Promise<Reply<Moved> | null> {
  const { ask, call } = one
  const { pick, random, day } = means
  const { stepId, againFrom, count } = pick(all)
  switch (act) {
    case 'start':
      return call.stepStart({ stepId, anyway: true })
    case 'pause':
      return call.stepPause({ stepId })
    case 'done':
      return call.stepDone({ stepId, anyway: true })
    case 'already':
      return call.stepDone({ stepId, anyway: true, workedMin: 20 })
    case 'right': {
      const stretches = [{ day, from: '1 PM', until: '30 min', makerId: null }]
      return call.stepPutRight({ stepId, stretches, isDone: random() < 0.5 })
    }
    case 'move':
      return call.stepMove({ stepId, toStepId: pick(all).stepId })
    case 'fail': {
      const fromStepId = pick([{ stepId }, ...againFrom]).stepId
      const failed = 1 + Math.floor(random() * count)
      return call.stepFailed({ stepId, fromStepId, count: failed, reason: 'mistake', note: '' })
    }
    case 'undo': {
      const { history } = await ask.commission({ id })
      // The oldest is the taking of the order: without it there is nothing to act on.
      const last = history.slice(0, -1).filter(({ canUndo }) => canUndo)
      last.splice(3)
      return last.length === 0 ? null : call.undo({ entryId: pick(last).entryId })
    }
    case 'change': {
      const begun = await call.changeBegin({ id })
      if (!begun.ok) return null
      const { draft } = begun.value
      const piece = draft.pieces[0]!
      const rows = ROWS.filter((_, at) => at !== 2 || random() < 0.7)
      const other = { ...piece, count: pick(['2', '3', '4']), input: { ...piece.input, rows } }
      const said = random() < 0.3 ? { [stepId]: random() < 0.5 } : {}
      const pieces = random() < 0.2 ? [other, aPiece({ title: 'Peg', rows: ROWS.slice(0, 1) }, 'free-list')] : [other]
      const promise = pick(['as-it-is', 'as-quoted'])
      return call.changeKeep({ id, draft: { ...draft, pieces }, said, askedBy: 'customer', why: '', promise })
    }
    case 'add-step': {
      const kind = pick(['hand', 'machine', 'outside'] as const)
      return call.stepsChange({ kind: 'add', stepId, extra: { name: 'Engrave', minutes: '20', kind, away: '2' } })
    }
    case 'leave-out':
    case 'earlier':
      return call.stepsChange({ kind: act, stepId })
    case 'pay':
      return call.moneyEnter({ id, money: { kind: 'payment', amount: '10', how: 'cash', day, reference: '' } })
    case 'board':
      return call.boardsAdd({ board: BOARD, count: '1', photo: { kind: 'none' } })
    case 'board-gone': {
      const { boards } = await ask.timber({ askedAbout: false, lines: 24 })
      return boards.length === 0 ? null : call.boardUsedUp({ id: pick(boards).id })
    }
    case 'hold':
      return (await ask.commission({ id })).onHoldUntil === null
        ? call.commissionHold({ id, until: 'open-end', why: 'Away', remindOn: null })
        : call.commissionResume({ id })
    case 'cancel':
      return (await ask.commission({ id })).closedFrom === null
        ? call.commissionCallOff({ id, why: 'Moved away', keep: '' })
        : call.commissionReopen({ id })
    case 'told':
      return call.commissionTold({ id })
    case 'remind':
      return call.commissionRemind({ id, day: random() < 0.5 ? null : '2026-06-01' })
    case 'pin':
      return call.stepPin({ stepId, day: random() < 0.5 ? null : '2026-06-01' })
    case 'terms':
      return call.commissionChange({ id, changes: { priceMinor: 100 * Math.floor(random() * 500) } })
  }
}

/** @returns How many acts were accepted and stayed, rather than refused or undone at once. */
async function aHundredActs(seed: number): Promise<number> {
  const { fraction: random } = randomStream(seed)
  const { fraction: chance } = randomStream(seed + 1_000_000)
  const pick: Pick = (from) => from[Math.floor(random() * from.length)]!
  const one = await aDesk()
  const { ask, call, setClock } = one
  const draft = aDraft({ pieces: [aPiece({ title: 'Shelf', rows: ROWS }, 'free-list', '3')] })
  const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-05-18' })
  const before = await shown(one, id)
  const taken = (await ask.bench({ rows: 24 })).lastAction!.entryId
  let kept = 0
  let now = Date.parse('2026-03-04T01:00:00Z')
  for (let count = 0; count < ACTS_EACH; count++) {
    now += Math.floor(random() * 300) * 60_000
    const atOnce = chance() < TAKEN_BACK_AT_ONCE
    // A plan is shown for ten minutes: what is compared has to be one of this very minute.
    if (atOnce) now += 11 * 60_000
    await setClock(new Date(now).toISOString())
    const all = await steps(one, id)
    const minutes = worked(all)
    const act = pick(ACTS)
    const day = new Date(now - 6 * 3_600_000).toISOString().slice(0, 10)
    const where = `seed ${seed}, act ${count}: ${act}`
    const asItWas = atOnce && act !== 'undo' ? await everything(one, id) : null
    const reply = await doAct(act, one, id, all, { pick, random, day })
    if (reply?.ok === false)
      expect(reply.problems, where).not.toContainEqual(expect.objectContaining({ code: 'fault' }))
    if (reply?.ok !== true) continue
    if (asItWas !== null && reply.value.entryId !== null) {
      expect((await call.undo({ entryId: reply.value.entryId })).ok, `${where}, undone`).toBe(true)
      expect(await everything(one, id), `${where}, undone`).toEqual(asItWas)
      continue
    }
    kept += 1
    const after = await steps(one, id)
    if (!TAKES_BACK.has(act)) expect(worked(after), where).toBeGreaterThanOrEqual(minutes)
    for (const { work, state } of after) {
      for (const { fromAt, toAt } of work) if (toAt !== null) expect(toAt, where).toBeGreaterThanOrEqual(fromAt)
      expect(
        work.some(({ toAt }) => toAt === null),
        where,
      ).toBe(state === 'running')
    }
    expect((await ask.shopState()).inTheWay, where).toEqual([])
  }

  // Undone one after the other, newest first, nothing of it is left.
  for (;;) {
    const { entryId } = (await ask.bench({ rows: 24 })).lastAction!
    if (entryId === taken) break
    const undone = await call.undo({ entryId })
    expect(undone, `seed ${seed}, undoing entry ${entryId}`).toMatchObject({ ok: true })
  }
  expect(await shown(one, id), `seed ${seed}`).toEqual(before)
  await one.desk.close()
  const file = examineFile(join(one.folder, 'shop.sqlite'), Object.keys(migrations), 'whole')
  expect(file, `seed ${seed}`).toMatchObject({ kind: 'sound', damagedRows: [] })
  return kept
}

test('a hundred random acts keep book, log, stock and money consistent, and undoing them all brings everything back', async () => {
  const end = performance.now() + SECONDS * 1000
  const kept: number[] = []
  for (let seed = FIRST_SEED; seed < FIRST_SEED + SEEDS && (kept.length === 0 || performance.now() < end); seed++)
    kept.push(await aHundredActs(seed))
  const all = kept.reduce((sum, each) => sum + each, 0)
  // One seed may call its order off early and have most refused; over all of them enough must have happened.
  expect(all).toBeGreaterThan(kept.length < 5 ? 0 : (kept.length * ACTS_EACH) / 4)
  console.info(
    `Random acts: seeds ${FIRST_SEED} to ${FIRST_SEED + kept.length - 1}, ${ACTS_EACH} acts each, ${all} of them kept.`,
  )
})
