import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { ownNorms } from './own-norms.ts'

/** Invented agility times of so many men of 25, from 16.00 s in steps of 0.10 s. */
function tested(people: number, timing: 'hand' | 'electronic' = 'hand') {
  const day = c.drive()
  const rules = c.demoRules()
  const stations = rules.stations.map((station) =>
    station.stationId === 'agility' ? { ...station, protocol: { ...station.protocol, timing } } : station,
  )
  const bibs = Array.from({ length: people }, (_, index) => String(200 + index))
  day.tell('openDay', c.ines, {
    facts: c.demoFacts(),
    rules: { ...rules, stations },
    expected: bibs.map((bib) => c.expected(`${bib} M 25`)),
  } as never)
  for (const [index, bib] of bibs.entries()) {
    const studentId = c.studentId(bib)
    day.tell('checkIn', c.kiosk, { studentId, secondIdentifier: 'birthDate' })
    day.tell('recordClearance', c.petra, {
      clearanceId: `clearance-${bib}` as never,
      studentId,
      status: 'cleared',
      limits: [],
      supersedes: null,
    })
    day.tell('confirmWarmUp', c.wren, { studentIds: [studentId] })
    day.tell('startAttempt', c.mira, {
      attemptId: `a-${bib}` as never,
      studentId,
      stationId: 'agility' as never,
      official: true,
      load: null,
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
    })
    day.tell('recordResult', c.mira, {
      observationId: `o-${bib}` as never,
      attemptId: `a-${bib}` as never,
      studentId,
      stationId: 'agility' as never,
      outcome: 'good',
      value: c.seconds(1600 + 10 * index),
      folds: [],
      fault: null,
      equipmentIds: [],
      keptUnusual: false,
      official: true,
      photoDigest: null,
      fromPaper: null,
    })
    day.tell('signOffStudent', c.mira, { studentId })
  }
  return day.day
}
const agility = (norms: ReturnType<typeof ownNorms>) => norms.find(({ station }) => station.startsWith('Agility'))

test('twenty men give quartiles and no more; the median of 16.0 to 17.9 s by tenths is the 16.95 s of type 7', () => {
  const day = tested(20)
  const [men] = agility(ownNorms(day, [day]))?.groups ?? []
  expect(men?.n).toBe(20)
  expect(men?.points.map(({ percentile }) => percentile)).toEqual([75, 50, 25])
  // Hyndman & Fan 1996, type 7: h = (n − 1) p, linear between order statistics. In tenths of a second.
  expect(men?.points.find(({ percentile }) => percentile === 50)?.value).toBe(169.5)
  expect(men?.refused.find(({ percentile }) => percentile === 90)?.needs).toBe(50)
})

test('a group of nineteen is refused whole, and days timed otherwise are left out', () => {
  const few = tested(19)
  expect(agility(ownNorms(few, [few]))?.groups[0]?.points.filter(({ percentile }) => percentile !== 50)).toEqual([])
  const electronic = tested(20, 'electronic')
  expect(agility(ownNorms(few, [few, electronic]))?.groups[0]?.n).toBe(19)
})
