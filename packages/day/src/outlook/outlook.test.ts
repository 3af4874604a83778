import { expect, test } from 'vitest'
import { at, expected, opened, petra, reads, ready, stops, studentId, tells, tomas } from '../controls.ts'
import { given } from '../given.ts'
import type { Day } from '../day.ts'
import { stationView, type StationView } from '../views/station.ts'
import { outlook } from './outlook.ts'

const bibs = ['101', '102', '103', '104', '105', '106']
const views = (day: Day): StationView[] => (day.opened?.rules.stations ?? []).flatMap(({ stationId }) => stationView(day, stationId) ?? [])
const clearances = (day: Day) => new Map([...day.students.values()].map((one) => [one.studentId, one.clearance.status]))
const now = Date.parse('2027-05-11T10:00:00+02:00')
const morning = given(opened(bibs.map((bib) => expected(bib))), ready(...bibs), at('10:00'), reads(24))

test('before anything was timed the estimate is by assumed times and says so; a second bench is compared and nothing is made', () => {
  morning.and((day) => {
    const asItIs = outlook(views(day), clearances(day), new Map(), now)
    expect(asItIs.left).toBe(6)
    expect(asItIs.stations.every(({ measured, left }) => measured === 0 && left === 6)).toBe(true)
    expect(asItIs.bottleneck).toBe('benchPress')
    // Six lifters of seven minutes on one bench: nothing ends sooner.
    expect(asItIs.endsAt - now).toBeGreaterThanOrEqual(6 * 7 * 60_000)
    const second = outlook(views(day), clearances(day), new Map([['benchPress', 2]]), now)
    expect(second.endsAt).toBeLessThan(asItIs.endsAt)
    expect(second.latestAt).toBeGreaterThanOrEqual(second.endsAt)
    expect(outlook(views(day), clearances(day), new Map(), now)).toEqual(asItIs)
  })
})

test('who has two stations alone is what the day waits for; the day ends sooner once somebody is given one of them', () => {
  const assigned = (personId: string, stationId: string) =>
    tells('assignStaff', tomas, { personId, stationId, qualified: true, acceptedBecause: null })
  const ends = (day: Day) => outlook(views(day), clearances(day), new Map(), now).endsAt
  const alone = given(opened(bibs.map((bib) => expected(bib))), ready(...bibs), at('10:00'), assigned('juno', 'sitAndReach'))
  const before = ends(alone.when(assigned('juno', 'benchPress')).day)
  expect(ends(alone.when(assigned('bo', 'sitAndReach')).day)).toBeLessThan(before)
})

test('who is stopped, or not cleared today, is waited for nowhere; who still waits for a clearance is', () => {
  morning
    .when(
      stops('101'),
      tells('recordClearance', petra, {
        clearanceId: 'c-102-b',
        studentId: studentId('102'),
        status: 'notToday',
        limits: [],
        supersedes: null,
      }),
    )
    .and((day) => expect(outlook(views(day), clearances(day), new Map(), now).left).toBe(4))
})

test('its own times take the place of what was assumed', () => {
  morning.and((day) => {
    const agility = views(day).find(({ stationId }) => stationId === 'agility')!
    const minute = 60_000
    const tried = (started: number, ended: number) => ({ startedAt: now + started * minute, observations: [{ at: now + ended * minute }] })
    const timed = {
      ...agility,
      students: agility.students.map((student, i) => ({
        ...student,
        ...(i < 2 && { place: 'done', attempts: [tried(10 * i, 10 * i + 1), tried(10 * i + 4, 10 * i + 5)] }),
      })),
    } as unknown as StationView
    const { takesMs, measured } = outlook([timed], clearances(day), new Map(), now).stations[0]!
    // Each of two tries holds the place for its own minute and two minutes of turn.
    expect([takesMs, measured]).toEqual([6 * minute, 2])
  })
})
