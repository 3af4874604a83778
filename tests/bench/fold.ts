import { initialTransition, transition } from 'xstate'
import {
  all,
  coolsDown,
  crosses,
  demoRules,
  demoStations,
  dayId,
  drive,
  expected,
  gun,
  kilograms,
  opened,
  reach,
  reads,
  ready,
  seconds,
  tries,
  at,
  type Step,
} from '@musterbook/day/controls'
import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { machinesOf, type StudentEvent } from '@musterbook/student/machine'
import { barredBy, governing } from '@musterbook/day/governing'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { Contest } from './measure.ts'

/* Forty students, each through five stations on a clean day; invented. */

const bibs = Array.from({ length: 40 }, (_, index) => String(101 + index))

export function wholeDay(): readonly DayEntry[] {
  const driven = drive()
  const steps: Step[] = [
    opened(
      bibs.map((bib) => expected(bib)),
      demoRules(),
    ),
    ready(...bibs),
    at('09:00'),
    ...bibs.map((bib) =>
      all(
        ...[1, 2].map((number) => tries(bib, 'agility', `a${bib}-${number}`, seconds(1700 + number))),
        ...[1, 2, 3].map((number) => tries(bib, 'sitAndReach', `s${bib}-${number}`, reach(300 + number))),
        ...[1, 2, 3, 4].map((number) => tries(bib, 'benchPress', `b${bib}-${number}`, kilograms(500 + number * 25))),
      ),
    ),
    reads(25),
    gun('w1', bibs),
    ...['2:00', '4:00', '6:00', '8:00', '10:00', '12:00'].flatMap((lap) => bibs.map((bib) => crosses('w1', bib, lap))),
    ...bibs.map((bib) => coolsDown(bib)),
  ]
  for (const step of steps) step(driven)
  if (driven.day.anomalies.length > 0 || driven.day.refusals.length > 0) throw new Error('the day that is measured went wrong')
  return driven.entries
}

/** The same day as the raw machines hear it. */
function asHeard(entries: readonly DayEntry[]): [string, StudentEvent][] {
  let day: Day = emptyDay(dayId)
  return entries.flatMap((entry) => {
    day = evolve(day, entry)
    return (entry.events as readonly DayEvent[]).flatMap((event): [string, StudentEvent][] => {
      const heard = heardAs(event, day)
      return heard && 'studentId' in event && event.studentId ? [[event.studentId, heard]] : []
    })
  })
}

/** What moves a machine; bibs and laps, which move none, are not counted for it. */
function heardAs(event: DayEvent, day: Day): StudentEvent | null {
  if (event.type === 'attemptStarted') return { type: `attemptStarted.${event.stationId}` }
  if (event.type === 'resultRecorded') return { type: `attemptEnded.${event.stationId}` }
  if (event.type === 'finishRecorded') return { type: 'attemptEnded.run' }
  if (event.type === 'coolDownConfirmed') return { type: 'coolDownRecorded' }
  if (event.type === 'clearanceRecorded') {
    const { status, limits } = governing(day.students.get(event.studentId)?.clearances ?? [])
    return { type: 'clearanceGoverns', status, barred: barredBy(limits, demoStations) }
  }
  return event.type === 'checkedIn' || event.type === 'warmUpConfirmed' || event.type === 'weighed' ? { type: event.type } : null
}

function foldDay(entries: readonly DayEntry[]): void {
  let day = emptyDay(dayId)
  for (const entry of entries) day = evolve(day, entry)
  if (day.version !== entries.length) throw new Error('the day was not folded whole')
}

function rawTransitions(heard: readonly [string, StudentEvent][]): void {
  const { fold: machine } = machinesOf(demoStations)
  const students = new Map(bibs.map((bib) => [`s${bib}`, initialTransition(machine)[0]]))
  for (const [studentId, event] of heard) students.set(studentId, transition(machine, students.get(studentId)!, event)[0])
}

/** Folding a day: everything that a reader of the ledger can ask, for little more than the machines alone would take. */
export const fold: Contest = {
  name: 'fold',
  what: 'a day of forty students, folded',
  against: 'raw xstate transition over what its machines hear',
  aim: 0.6,
  better: 'higher',
  unit: 'days/s',
  open: async () => {
    const entries = wholeDay()
    const heard = asHeard(entries)
    const often =
      <T>(work: () => T) =>
      async () => {
        for (let day = 0; day < 3; day++) work()
        return 3
      }
    return { ours: often(() => foldDay(entries)), raw: often(() => rawTransitions(heard)), close: async () => {} }
  },
}
