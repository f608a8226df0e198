import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { answerFirst, hoursAreSaid, noWeekHasHours, type FirstAnswers } from '../../../core/almanac/first-start.ts'
import { startingIn } from '../../../core/almanac/usual-choices.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const nothing: FirstAnswers = { papers: null, hours: null, daysOfTen: null, stations: null, heated: null, usual: null }
const answered = (answers: Partial<FirstAnswers>) => {
  const read = answerFirst(almanac, { ...nothing, ...answers })
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

describe('the first answers of a new shop', () => {
  test('are facts of the almanac, each where its page has it', () => {
    const now = answered({
      papers: { shopName: 'Heron Lane', makerName: 'Ines', address: '4 Heron Lane', reach: '555-0188' },
      hours: [{ weekday: 5, from: '6:30 pm', to: '9 PM' }],
      daysOfTen: '7',
      stations: { clamps: '20', rack: '3' },
      heated: 'for-work',
      usual: { wood: 'cherry', finish: 'hardwax_oil' },
    })
    expect(now.shop.name).toBe('Heron Lane')
    expect(now.makers).toMatchObject([
      { name: 'Ines', weeklyHours: { 5: [{ from: 1110, to: 1260 }] }, attendance: 0.7 },
    ])
    expect(now.money).toMatchObject({ address: '4 Heron Lane', reach: '555-0188' })
    expect(now.stations.map(({ capacity }) => capacity)).toEqual([20, 1, 3, 1])
    expect(now.air.heated).toBe('for-work')
    expect(now.usual).toEqual({ wood: 'cherry', finish: 'hardwax_oil' })
    expect(now.firstStart).toEqual({ greeted: true, hoursSaid: true })
  })

  test('that are all put off change nothing but that the shop was greeted', () => {
    const now = answered({})
    expect(now).toEqual({ ...almanac, firstStart: { greeted: true, hoursSaid: false } })
    expect(hoursAreSaid(now)).toBe(false)
  })

  test('say the hours also where they are the usual ones', () => {
    const evening = { from: '19:00', to: '21:30' }
    const hours = [1, 2, 3, 4].map((weekday) => ({ weekday, ...evening }))
    const now = answered({ hours: [...hours, { weekday: 6, from: '9:00', to: '17:00' }] })
    expect(now.makers).toEqual(almanac.makers)
    expect(hoursAreSaid(now)).toBe(true)
  })

  test('name each field that cannot be read, and change nothing then', () => {
    const read = answerFirst(almanac, {
      papers: { shopName: ' ', makerName: '', address: '', reach: '' },
      hours: [{ weekday: 1, from: 'seven', to: '21:00' }],
      daysOfTen: '12',
      stations: { clamps: 'many' },
      heated: 'sometimes',
      usual: null,
    })
    expect(read).toMatchObject({ ok: false })
    const fields = read.ok ? [] : read.problems.map(({ field }) => field)
    expect(fields).toEqual([
      'papers.shopName',
      'papers.makerName',
      'hours.0.from',
      'daysOfTen',
      'stations.clamps',
      'heated',
    ])
  })

  test('hours changed in the Almanac are said, too', () => {
    const makers = almanac.makers.map((maker) => ({ ...maker, weeklyHours: {} }))
    expect(hoursAreSaid({ ...almanac, makers })).toBe(true)
  })

  test('without any in a week no step gets a day, and one evening is enough for that', () => {
    const makers = almanac.makers.map((maker) => ({ ...maker, weeklyHours: {} }))
    expect(noWeekHasHours(almanac)).toBe(false)
    expect(noWeekHasHours({ ...almanac, makers })).toBe(true)
    expect(noWeekHasHours({ ...almanac, makers: makers.map((maker) => ({ ...maker, weeklyHours: { 3: [] } })) })).toBe(
      true,
    )
    const evening = { 3: [{ from: 19 * 60, to: 21 * 60 }] }
    expect(noWeekHasHours({ ...almanac, makers: [...makers, { ...makers[0]!, weeklyHours: evening }] })).toBe(false)
  })
})

describe('a new piece', () => {
  const board = constructionOf('end-grain-board')
  const box = constructionOf('box')
  if (board === undefined || box === undefined) throw new Error('no such construction')
  const starting = board.starting('inch')

  test('begins with the wood used most, which changes places where the piece has it already', () => {
    const usual = { wood: 'maple', finish: '' }
    expect(startingIn(board, 'inch', { ...almanac, usual })).toEqual({ ...starting, woodA: 'maple', woodB: 'walnut' })
  })

  test('that touches food leaves a film finish to others', () => {
    const usual = { wood: '', finish: 'oil_polyurethane' }
    expect(startingIn(board, 'inch', { ...almanac, usual })['finish']).toBe(starting['finish'])
    expect(startingIn(box, 'inch', { ...almanac, usual })['finish']).toBe('oil_polyurethane')
  })

  test('begins as its construction has it where the wood is gone from the almanac', () => {
    const usual = { wood: 'ebony', finish: 'tar' }
    expect(startingIn(board, 'inch', { ...almanac, usual })).toEqual(starting)
  })
})
