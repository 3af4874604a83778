import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { progressBetween, trainFirst } from './standings.ts'

/** Sunniva's two runs of the acceptance figures: 13:06 in May, 12:31 in October; agility timed electronically the second time. Invented. */
function tested(runTime: string, agility: number, timing: 'hand' | 'electronic', date: string, by = c.mira) {
  const day = c.drive()
  const rules = c.demoRules()
  const stations = rules.stations.map((station) =>
    station.stationId === 'agility' ? { ...station, protocol: { ...station.protocol, timing } } : station,
  )
  day.tell(
    'openDay',
    c.ines,
    { facts: c.demoFacts({ date }), rules: { ...rules, stations }, expected: [c.expected('108 W 24')] } as never,
    { at: '08:00' },
  )
  const studentId = c.studentId('108')
  day.tell('checkIn', c.kiosk, { studentId, secondIdentifier: 'birthDate' })
  day.tell('recordClearance', c.petra, { clearanceId: 'clearance' as never, studentId, status: 'cleared', limits: [], supersedes: null })
  day.tell('confirmWarmUp', c.wren, { studentIds: [studentId] })
  day.tell('startAttempt', by, {
    attemptId: 'agility-1' as never,
    studentId,
    stationId: 'agility' as never,
    official: true,
    load: null,
    equipmentIds: [],
    observerId: null,
    earlyBecause: null,
  })
  day.tell('recordResult', by, {
    observationId: 'o-1' as never,
    attemptId: 'agility-1' as never,
    studentId,
    stationId: 'agility' as never,
    outcome: 'good',
    value: c.measured(agility, 'hundredthsOfSecond', timing),
    folds: [],
    fault: null,
    equipmentIds: [],
    keptUnusual: false,
    official: true,
    photoDigest: null,
    fromPaper: null,
  })
  day.reading(20, { readAt: '09:58' })
  day.tell(
    'startWave',
    c.wren,
    { waveId: 'wave' as never, stationId: 'run' as never, official: true, runners: [{ studentId, attemptId: 'run-1' as never }] },
    { at: '10:00:00' },
  )
  for (let lap = 1; lap < 6; lap++)
    day.tell(
      'recordCrossing',
      c.wren,
      { observationId: `tap-${lap}` as never, waveId: 'wave' as never, studentId, line: 'lap' },
      { at: `10:0${lap * 2 - (lap > 4 ? 1 : 0)}:00` },
    )
  day.tell(
    'recordCrossing',
    c.wren,
    { observationId: 'tap-6' as never, waveId: 'wave' as never, studentId, line: 'finish' },
    { at: `10:${runTime}` },
  )
  return day.day
}

test('a run from 13:06 to 12:31 is 35 s faster, from the 60th to the 70th, with no error known for it here', () => {
  const lines = progressBetween(tested('13:05.4', 1861, 'hand', '2027-05-11'), tested('12:31', 1790, 'electronic', '2027-10-12'), 's108')
  const run = lines.find((line) => line.station.startsWith('Run'))
  expect([run?.first.says, run?.later.says]).toEqual(['13:06', '12:31'])
  expect([run?.first.placing, run?.later.placing]).toEqual(['60th', '70th'])
  expect(run?.progress).toMatchObject({ difference: -35, direction: 'better', verdict: 'errorNotKnown', differs: [] })
})

test('agility timed by hand and then electronically is not compared, and no arrow is shown', () => {
  const lines = progressBetween(tested('13:05.4', 1861, 'hand', '2027-05-11'), tested('12:31', 1790, 'electronic', '2027-10-12'), 's108')
  const agility = lines.find((line) => line.station.startsWith('Agility'))
  expect(agility?.progress).toMatchObject({ verdict: 'notDirectlyComparable', direction: null })
  expect(agility?.progress.differs).toContain('timing')
})

test('another rater on the later day is said, and the same one is not', () => {
  const later = (by: typeof c.mira) =>
    progressBetween(tested('13:05.4', 1861, 'hand', '2027-05-11'), tested('12:31', 1790, 'hand', '2027-10-12', by), 's108')
  const notes = (by: typeof c.mira) =>
    later(by).map(({ station, progress }) => [station.split(',')[0], progress.notes.includes('measuredBy')])
  expect(notes(c.mira)).toContainEqual(['Agility run', false])
  expect(notes(c.colm)).toContainEqual(['Agility run', true])
  // A run is seen by many.
  expect(notes(c.colm)).toContainEqual(['Run', false])
})

test('what to train first names the lowest standing with its band, and general words with their source', () => {
  const [first] = trainFirst(tested('15:50', 1750, 'hand', '2027-05-11'), 's108')
  expect(first?.station).toMatch(/^Run/)
  expect(first?.to).toBeLessThanOrEqual(30)
  expect(first?.note?.source).toBeTruthy()
})
