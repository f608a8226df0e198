import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type MoneyEntry, moneyStanding, type MoneyTerms, paidHow } from '../../../core/money/ledger.ts'

const entry = (id: string, minor: number, changes: Partial<MoneyEntry> = {}): MoneyEntry => ({
  id,
  commissionId: 'o',
  atMs: 0,
  day: '2026-12-01',
  kind: 'payment',
  minor,
  how: 'cash',
  reference: '',
  takesBack: null,
  ...changes,
})

const terms: MoneyTerms = { totalMinor: 40_246, depositAskedMinor: 20_500, stage: 'agreed', keptMinor: 0 }

describe('what an order stands at', () => {
  // A total of 402.46 with a deposit of 205.00, paid in three goes.
  it('follows what was paid', () => {
    const paid = [entry('a', 10_000), entry('b', 10_500), entry('c', 19_746)]
    const after = (count: number) => moneyStanding(terms, paid.slice(0, count))
    expect(after(0)).toMatchObject({ state: 'deposit-due', depositOpenMinor: 20_500, owedMinor: 40_246 })
    expect(after(1)).toMatchObject({ state: 'deposit-due', depositOpenMinor: 10_500 })
    expect(after(2)).toMatchObject({ state: 'in-order', depositOpenMinor: 0, owedMinor: 19_746 })
    expect(after(3)).toMatchObject({ state: 'paid', owedMinor: 0 })
  })

  // Agreed 395.00, an addition of 45.00, tax of 7.25 %: 471.90; 205.00 paid.
  it('owes more after a change', () => {
    expect(moneyStanding({ ...terms, totalMinor: 47_190 }, [entry('a', 20_500)]).owedMinor).toBe(26_690)
  })

  it('asks for the balance once it is ready, and gives back what is too much', () => {
    expect(moneyStanding({ ...terms, stage: 'ready' }, [entry('a', 20_500)]).state).toBe('balance-due')
    expect(moneyStanding({ ...terms, stage: 'handed-over' }, []).state).toBe('balance-due')
    expect(moneyStanding(terms, [entry('a', 50_000)])).toMatchObject({ state: 'to-give-back', owedMinor: -9754 })
    expect(moneyStanding({ ...terms, totalMinor: null }, [])).toMatchObject({ state: 'not-priced', owedMinor: 0 })
    expect(moneyStanding({ ...terms, stage: 'inquiry' }, []).state).toBe('asked')
  })

  // Paid 205.00, kept 77.74, so 127.26 goes back.
  it('keeps what was spent of an order that is called off', () => {
    const calledOff: MoneyTerms = { ...terms, stage: 'called-off', keptMinor: 7774 }
    expect(moneyStanding(calledOff, [entry('a', 20_500)])).toMatchObject({ state: 'to-give-back', owedMinor: -12_726 })
    const back = entry('b', 12_726, { kind: 'refund' })
    expect(moneyStanding(calledOff, [entry('a', 20_500), back])).toMatchObject({ state: 'settled', owedMinor: 0 })
  })

  // A credit of 37.52 at 7.25 % on a bill of 402.46: 40.24 with its tax, 362.22 left.
  it('owes less by what a credit note takes off, and no more once it is called off', () => {
    const credit = entry('c', 4_024, { kind: 'credit' })
    expect(moneyStanding(terms, [credit])).toMatchObject({ creditedMinor: 4_024, owedMinor: 36_222, paidMinor: 0 })
    const all = moneyStanding(terms, [credit, entry('a', 36_222)])
    expect(all).toMatchObject({ state: 'paid', owedMinor: 0 })
    expect(moneyStanding({ ...terms, stage: 'called-off', keptMinor: 0 }, [credit]).owedMinor).toBe(0)
  })

  it('counts no tip as paid, and what is written off as settled', () => {
    const tip = entry('t', 1000, { kind: 'tip' })
    expect(moneyStanding(terms, [tip])).toMatchObject({ paidMinor: 0, tipsMinor: 1000, owedMinor: 40_246 })
    const given = entry('w', 40_246, { kind: 'write-off' })
    expect(moneyStanding(terms, [given])).toMatchObject({ state: 'paid', owedMinor: 0, paidMinor: 0 })
  })

  it('is what it was before an entry that is taken back', () => {
    const kinds = fc.constantFrom<MoneyEntry['kind']>('payment', 'refund', 'write-off', 'tip')
    const some = fc.array(fc.record({ kind: kinds, minor: fc.integer({ min: 1, max: 1_000_000 }) }), { maxLength: 8 })
    fc.assert(
      fc.property(some, kinds, fc.integer({ min: 1, max: 1_000_000 }), (others, kind, minor) => {
        const before = others.map((each, at) => entry(`e${at}`, each.minor, { kind: each.kind }))
        const wrong = entry('wrong', minor, { kind })
        const right = entry('right', minor, { kind, takesBack: 'wrong' })
        expect(moneyStanding(terms, [...before, wrong, right])).toEqual(moneyStanding(terms, before))
      }),
    )
  })
})

it('reads how somebody paid', () => {
  expect(paidHow('Cash')).toEqual({ how: 'cash', reference: '' })
  expect(paidHow('by check')).toEqual({ how: 'check', reference: '' })
  expect(paidHow('barter: eggs')).toEqual({ how: 'other', reference: 'barter: eggs' })
  expect(paidHow('')).toEqual({ how: 'other', reference: '' })
})
