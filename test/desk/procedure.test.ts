import fc from 'fast-check'
import { describe, expect, expectTypeOf, test } from 'vitest'
import { z } from 'zod'
import { failed, ok, problem } from '../../core/problems.ts'
import { answer, noInput, proceduresOf, type Client, type Reply } from '../../desk/procedure.ts'
import { testProcedures, procedures } from '../../desk/procedures.ts'

interface Shelf {
  readonly boards: number
}

const procedure = proceduresOf<Shelf>()

const table = {
  boards: procedure(noInput, ({ boards }) => ok(boards)),
  rip: procedure(
    z.strictObject({
      into: z.int().min(2).max(9),
      wood: z.string().min(1),
      cuts: z.array(z.strictObject({ width: z.number().positive() })).optional(),
    }),
    (_, { into, wood }) => ok(`${into} strips of ${wood}`),
  ),
  burn: procedure(noInput, () => failed(problem('no-fire', 'The stove is out: light it first.'))),
  drop: procedure(noInput, () => {
    throw new Error('secret of the machine room')
  }),
  today: procedure(noInput, () => ok({ at: new Date(0) })),
}

const faults: unknown[] = []
const ask = (name: string, input: unknown = {}): Promise<Reply<unknown>> =>
  answer(table, { boards: 3 }, name, input, { checkJson: true, logFault: (_, fault) => faults.push(fault) })

const sentences = async (name: string, input: unknown): Promise<readonly [string | undefined, string][]> => {
  const reply = await ask(name, input)
  return reply.ok ? [] : reply.problems.map(({ field, message }) => [field, message] as const)
}

describe('a procedure', () => {
  test('answers with what it worked out from its context and its input', async () => {
    expect(await ask('boards')).toEqual({ ok: true, value: 3 })
    expect(await ask('rip', { into: 4, wood: 'maple' })).toEqual({ ok: true, value: '4 strips of maple' })
  })

  test('passes on what the maker can mend', async () => {
    expect(await ask('burn')).toEqual({
      ok: false,
      problems: [{ code: 'no-fire', message: expect.any(String) as string }],
    })
  })

  test('says of each field what is wrong with it, in words for people', async () => {
    expect(await sentences('rip', { into: 1, wood: '', cuts: [{ width: 3 }, { width: 0 }] })).toEqual([
      ['into', 'This must be 2 or more.'],
      ['wood', 'This is empty: fill it in.'],
      ['cuts.1.width', 'This must be more than 0.'],
    ])
    expect(await sentences('rip', { into: 'four' })).toEqual([
      ['into', 'This must be a number.'],
      ['wood', 'This is missing: fill it in.'],
    ])
    expect(await sentences('rip', { into: 2.5, wood: 'ash' })).toEqual([['into', 'This must be a whole number.']])
    expect(await sentences('rip', { into: 3, wood: 'ash', colour: 'red' })).toEqual([
      ['colour', 'Nothing is known of “colour”: leave it out.'],
    ])
  })

  test('takes no name for its own that every object answers to', async () => {
    for (const name of ['constructor', 'toString', '__proto__', 'hasOwnProperty', '']) {
      expect(await ask(name), name).toMatchObject({ ok: false, problems: [{ code: 'unknown-procedure' }] })
    }
  })

  test('hides a fault from the page and logs it', async () => {
    faults.length = 0
    const reply = await ask('drop')
    expect(reply).toMatchObject({ ok: false, problems: [{ code: 'fault' }] })
    expect(JSON.stringify(reply)).not.toContain('secret')
    expect(String(faults[0])).toContain('secret of the machine room')
  })

  test('that answers with what JSON cannot carry is at fault', async () => {
    faults.length = 0
    expect(await ask('today')).toMatchObject({ ok: false, problems: [{ code: 'fault' }] })
    expect(String(faults[0])).toContain('value.at')
  })

  test('never throws, whatever it is asked', async () => {
    const name = fc.oneof(fc.constantFrom(...Object.keys(table)), fc.string())
    await fc.assert(
      fc.asyncProperty(name, fc.anything(), async (name, input) => {
        const reply = await ask(name, input)
        expect(typeof reply.ok).toBe('boolean')
      }),
    )
  })
})

describe('the procedures of the desk', () => {
  const all = Object.entries({ ...procedures, ...testProcedures })

  test.each(all)('%s refuses input of no form that it knows, with a sentence', async (name, { input }) => {
    for (const nonsense of [undefined, null, 7, 'x', [], { noSuchField: 1 }]) {
      const reply = await answer({ [name]: { input, run: () => ok(null) } }, {}, name, nonsense)
      expect(reply.ok, `${name} takes ${JSON.stringify(nonsense)}`).toBe(false)
      for (const { message } of reply.ok ? [] : reply.problems) expect(message).toMatch(/^\p{Lu}.*[.?!]$/u)
    }
  })
})

test('a client knows the input and the value of each procedure', () => {
  type Desk = Client<typeof table>
  expectTypeOf<ReturnType<Desk['boards']>>().toEqualTypeOf<Promise<Reply<number>>>()
  expectTypeOf<Desk['boards']>().toBeCallableWith()
  expectTypeOf<Parameters<Desk['rip']>[0]['cuts']>().toEqualTypeOf<readonly { readonly width: number }[] | undefined>()
})
