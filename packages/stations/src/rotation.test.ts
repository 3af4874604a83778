import fc from 'fast-check'
import { expect, test } from 'vitest'
import { rotation, type Lifter } from './rotation.ts'

const now = 1_000_000
const minute = 60_000
const lifter = (studentId: string, load: number | null, restLeft = 0, effortsLeft = 3): Lifter => ({
  studentId,
  load,
  restOverAt: restLeft > 0 ? now + restLeft : null,
  effortsLeft,
})
const order = (lifters: Lifter[], bar: number | null = null) => rotation(lifters, bar, now).map(({ studentId }) => studentId)

test('the bar rises: of those who are rested the next load up, and what lies below it last', () => {
  expect(order([lifter('a', 600), lifter('b', 450), lifter('c', 525), lifter('d', 400)], 450)).toEqual(['b', 'c', 'a', 'd'])
})

test('whoever rests lets the others lift meanwhile: the bar does not lie still while somebody is rested', () => {
  const turns = rotation([lifter('a', 400, 3 * minute), lifter('b', 500), lifter('c', 600), lifter('d', 650)], 400, now)
  expect(turns.map(({ studentId }) => studentId)).toEqual(['b', 'c', 'd', 'a'])
  expect(turns.every(({ idleMs }) => idleMs === 0)).toBe(true)
})

test('nobody rested: the first whose rest is over, and the order says how long the bar lies still', () => {
  expect(rotation([lifter('a', 500, 2 * minute), lifter('b', 450, minute)], null, now)).toMatchObject([
    { studentId: 'b', startsAt: now + minute, idleMs: minute },
    { studentId: 'a', startsAt: now + 2 * minute, idleMs: 0 },
  ])
})

test('whose efforts are used is not called; an unknown load is nobody’s hindrance', () => {
  expect(order([lifter('a', 500, 0, 0), lifter('b', null), lifter('c', 450)], 400)).toEqual(['b', 'c'])
})

test('each once, nobody before the rest is over, two never at once, and never idle while somebody is rested', () => {
  const anybody = fc.array(
    fc.record({ load: fc.option(fc.integer({ min: 200, max: 2_000 })), rest: fc.integer({ min: 0, max: 240_000 }) }),
    {
      maxLength: 8,
    },
  )
  fc.assert(
    fc.property(anybody, fc.integer({ min: 0, max: 2_000 }), (them, bar) => {
      const lifters = them.map(({ load, rest }, i) => lifter(String(i), load, rest))
      const turns = rotation(lifters, bar, now)
      expect(turns.map(({ studentId }) => studentId).sort()).toEqual(lifters.map(({ studentId }) => studentId).sort())
      for (const [i, turn] of turns.entries()) {
        const left = turns.slice(i).map(({ studentId }) => lifters[Number(studentId)]!.restOverAt ?? 0)
        expect(turn.startsAt).toBeGreaterThanOrEqual(lifters[Number(turn.studentId)]!.restOverAt ?? 0)
        expect(turn.startsAt - turn.idleMs).toBe(i === 0 ? now : turns[i - 1]!.startsAt + minute)
        if (turn.idleMs > 0) expect(turn.startsAt).toBe(Math.min(...left))
      }
    }),
  )
})
