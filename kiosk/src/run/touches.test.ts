import type { RunnerView } from '@musterbook/day/views/station'
import { expect, test } from 'vitest'
import { nextCrossing, pending, type Touch } from './touches.ts'

const runner = (laps: number, ...seen: string[]) =>
  ({
    studentId: 's112',
    laps,
    lapsToGo: 6 - laps,
    crossings: seen.map((observationId) => ({ observationId })),
  }) as unknown as RunnerView
const touch = (observationId: string, more: Partial<Touch> = {}): Touch => ({
  observationId,
  studentId: 's112',
  bib: '112',
  elapsedMs: 0,
  lap: 1,
  line: 'lap',
  takenBack: false,
  told: 'sending',
  ...more,
})

test('a touch counts on the key before the site has answered, and once only when it has', () => {
  expect(nextCrossing(runner(2, 'a', 'b'), [touch('a'), touch('b'), touch('c')])).toEqual({ toGo: 3, line: 'lap', lap: 4 })
  expect(nextCrossing(runner(3, 'a', 'b', 'c'), [touch('c')])).toEqual({ toGo: 3, line: 'lap', lap: 4 })
})

test('with one lap to go the touch is the finish', () => {
  expect(nextCrossing(runner(5), [])).toEqual({ toGo: 1, line: 'finish', lap: 6 })
  expect(nextCrossing(runner(4), [touch('d', { told: { said: 'noContact' } })])).toMatchObject({ toGo: 1, line: 'finish' })
})

test('what was taken back, turned away or belongs to another does not count', () => {
  const others = [
    touch('a', { takenBack: true }),
    touch('b', { studentId: 's113' }),
    touch('c', { told: { said: 'notUnderstood', problem: {} } }),
    touch('d', { told: { said: 'notKept' } }),
  ]
  expect(pending(runner(0), others)).toEqual([])
})
