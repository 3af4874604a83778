import { getAdjacencyMap } from 'xstate/graph'
import type { AnyMachineSnapshot } from 'xstate'
import { expect, test } from 'vitest'
import { allows, machinesOf, stateOf, type StudentEvent } from '@musterbook/student/machine'
import type { Rule } from '@musterbook/vocabulary/refusals'
import { demoFacts, demoRules, demoStations, expected } from '../controls.ts'
import { emptyDay, newStudent, type Attempt, type Day, type Student } from '../day.ts'
import { reasonsAgainst } from './may-start.ts'

const stations = demoStations.filter(({ stationId }) => ['skinfold', 'benchPress', 'run'].includes(stationId))
const rules = { ...demoRules(), stations: [...stations], heatPolicy: null }
const machines = machinesOf(rules.stations)
const day: Day = { ...emptyDay('d' as never), opened: { facts: demoFacts(), rules, machines, at: 0 } }

const limited = ['benchPress']
const events: StudentEvent[] = [
  ...(
    ['checkedIn', 'absent', 'withdrew', 'signedOff', 'warmUpConfirmed', 'weighed', 'stopped', 'restored', 'coolDownRecorded'] as const
  ).map((type): StudentEvent => ({ type })),
  ...(['cleared', 'notToday', 'withdrawn'] as const).map((status): StudentEvent => ({ type: 'clearanceGoverns', status, barred: [] })),
  { type: 'clearanceGoverns', status: 'limited', barred: limited },
  ...stations.flatMap(({ stationId }): StudentEvent[] => [
    { type: `attemptStarted.${stationId}` },
    { type: `attemptEnded.${stationId}` },
    { type: `attemptReleased.${stationId}` },
  ]),
]

/** A student as the day would hold one whose machine stands there. */
function studentIn(snapshot: AnyMachineSnapshot): Student {
  const { effort, stop, clearance } = stateOf(snapshot)
  const student = newStudent(expected('101'), false, machines)
  const underWay = {
    attemptId: 'x',
    stationId: effort.slice(3),
    status: 'underWay',
    official: false,
    observations: [],
  } as unknown as Attempt
  return {
    ...student,
    machine: snapshot,
    clearance: { status: clearance, limits: [] },
    stop: stop === 'none' ? null : ({ since: 0 } as Student['stop']),
    attempts: effort === 'free' ? [] : [underWay],
  }
}

const ofTheStudent: readonly Rule[] = [
  'withdrawn',
  'afterSignOff',
  'notCheckedIn',
  'stopped',
  'notCleared',
  'coolDownDue',
  'warmUpMissing',
  'bodyMassMissing',
  'otherUnderWay',
]

test('in every state that can be reached the reasons of decide and the guards of the machine say the same', () => {
  const map = getAdjacencyMap(machines.deciding, {
    events: events as never,
    serializeState: ((snapshot: AnyMachineSnapshot) => {
      const { stations: _, ...rest } = stateOf(snapshot)
      return JSON.stringify([rest, snapshot.context])
    }) as never,
    limit: Infinity,
  })
  const envelope = { occurredAt: 0, offsetMs: 0, bandMs: 0, contactAgeMs: 0, decidedOnDevice: false }
  const now = { recordedAt: 0, siteVersionRead: 0, siteHead: 0 }
  const said = { yes: 0, no: 0 }
  for (const { state } of Object.values(map)) {
    const student = studentIn(state as unknown as AnyMachineSnapshot)
    for (const station of stations) {
      const reasons = reasonsAgainst({ day, student, station, official: true, envelope, observerId: null, early: true, now })
      expect(reasons.filter((reason) => !ofTheStudent.includes(reason.rule))).toEqual([])
      const machineSays = allows(machines, student.machine, { type: `attemptStarted.${station.stationId}` })
      if (machineSays !== (reasons.length === 0))
        expect({ state: student.machine.value, station: station.stationId, reasons, machineSays }).toBe('agreed')
      said[machineSays ? 'yes' : 'no']++
    }
  }
  expect(said.yes).toBeGreaterThan(20)
  expect(said.no).toBeGreaterThan(1000)
})
