import { expect, test } from 'vitest'
import { chance } from './chance.ts'
import { simulate, type Errand } from './simulate.ts'

const post = (stationId: string, places = 1, atOnce = 1) => ({
  stationId,
  places,
  atOnce,
  crew: Array.from({ length: places }, (_, at) => `${stationId}.${at}`),
})
const all = (n: number, ...stationIds: string[]): Errand[] =>
  Array.from({ length: n }, (_, i) => ({ studentId: `s${i}`, freeAt: 0, stationIds }))

// Erlang's formulas as in D. Gross and C. M. Harris, Fundamentals of Queueing Theory, 3rd ed. 1998, section 2.2 (M/M/1) and 5.1 (M/D/1).
test('one place, arrivals and service by chance: the mean wait is that of M/M/1, and half of it where service takes always as long', () => {
  const [arrivals, service] = [1 / 120_000, 1 / 60_000]
  const load = arrivals / service
  const random = chance(7)
  const span = (rate: number) => -Math.log(1 - random()) / rate
  let at = 0
  const errands = Array.from({ length: 60_000 }, (_, i) => ({ studentId: `s${i}`, freeAt: (at += span(arrivals)), stationIds: ['bench'] }))
  const waitOf = (draw: () => number) => {
    const { waitedMs, served } = simulate([post('bench')], errands, draw, random).stations.get('bench')!
    return waitedMs / served
  }
  const expected = load / (service - arrivals)
  expect(expected).toBe(60_000)
  expect(waitOf(() => span(service)) / expected).toBeCloseTo(1, 1)
  expect(waitOf(() => 1 / service) / (expected / 2)).toBeCloseTo(1, 1)
})

// Gonzalez and Sahni, Open shop scheduling to minimize finish time, J. ACM 23 (1976): with two machines the least time is
// the largest of both loads and of the longest errand; no schedule of any open shop is shorter than that bound.
test('nothing ends before the open-shop bound, and with two stations of equal work it ends at it', () => {
  const takes: Record<string, number> = { reach: 60, bench: 60, agility: 45 }
  const draw = (id: string) => takes[id]!
  expect(simulate([post('reach'), post('bench')], all(20, 'reach', 'bench'), draw, chance(1)).endsAt).toBe(20 * 60)
  const three = simulate([post('reach'), post('bench'), post('agility')], all(12, 'reach', 'bench', 'agility'), draw, chance(1))
  expect(three.endsAt).toBeGreaterThanOrEqual(12 * 60)
  expect(three.endsAt).toBeLessThanOrEqual(12 * 60 + 105)
  // One errand that is longer than any load.
  expect(simulate([post('reach'), post('bench')], all(1, 'reach', 'bench'), draw, chance(1)).endsAt).toBe(120)
})

test('a second bench halves what the day waits for; a station without a place strands those who need it', () => {
  const draw = () => 420_000
  expect(simulate([post('bench')], all(40, 'bench'), draw, chance(1)).endsAt).toBe(40 * 420_000)
  expect(simulate([post('bench', 2)], all(40, 'bench'), draw, chance(1)).endsAt).toBe(20 * 420_000)
  expect(simulate([post('bench', 0)], all(3, 'bench'), draw, chance(1))).toMatchObject({ endsAt: 0, stranded: 3 })
})

test('a run goes in waves of about the same size, each as long as its slowest', () => {
  const times = [600, 700, 800]
  let at = 0
  const course = simulate([post('run', 1, 12)], all(40, 'run'), () => times[at++ % 3]!, chance(1))
  expect(course.endsAt).toBe(4 * 800)
  expect(course.stations.get('run')).toMatchObject({ served: 40, workedMs: 4 * 800 })
})

test('the same seed gives the same course', () => {
  const course = (seed: number) =>
    simulate([post('a'), post('b', 2)], all(30, 'a', 'b'), (_, random) => 100 + Math.floor(random() * 100), chance(seed)).endsAt
  expect(course(3)).toBe(course(3))
  expect(course(3)).not.toBe(course(4))
})

test('one person at two stations serves at one of them at a time: a second person takes half of the wait, wherever they stand', () => {
  const by = (stationId: string, ...crew: string[]) => ({ ...post(stationId), crew })
  const ends = (...posts: ReturnType<typeof by>[]) => simulate(posts, all(12, 'reach', 'skinfold'), () => 60, chance(1)).endsAt
  expect(ends(by('reach', 'juno'), by('skinfold', 'juno'))).toBe(24 * 60)
  expect(ends(by('reach', 'juno'), by('skinfold', 'juno', 'bo'))).toBe(12 * 60)
  expect(ends(by('reach', 'juno'), by('skinfold', 'bo'))).toBe(12 * 60)
})
