import type { Draft, Ledger } from '@musterbook/ledger/ledger'
import type { Day } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { emptyDay } from '@musterbook/day/day'
import * as c from '@musterbook/day/controls'
import type { OpenAcademy } from '../../ops/academy.ts'

/** Goes on with an open day as its staff would, until it holds so many events, and writes them into the ledger behind it. */
export async function fillDay({ house, dayId, academy }: OpenAcademy, events: number): Promise<void> {
  const ledger = house.ledger as Ledger
  const stream = `day/${dayId}` as const
  const before: DayEntry[] = []
  for await (const entry of ledger.read(stream, 0)) before.push(entry as never)
  const day: Day = before.reduce(evolve, emptyDay(dayId as never))
  const driven = c.drive(day)
  driven.time = before.at(-1)!.recordedAt + 1000
  const count = () => [...before, ...driven.entries].reduce((sum, entry) => sum + entry.events.length, 0)
  const students = academy.students.filter(({ bib }) => bib !== null) as { studentId: string; bib: string }[]
  morning(driven, students)
  let known = count()
  for (let round = 0; known < events; round++) {
    const { studentId } = students[round % students.length]!
    const from = driven.entries.length
    oneVisit(driven, studentId, round)
    known += driven.entries.slice(from).reduce((sum, entry) => sum + entry.events.length, 0)
  }
  let version = before.length
  for (let at = 0; at < driven.entries.length; at += 500) {
    const some = driven.entries.slice(at, at + 500)
    await Promise.all(some.map((entry) => ledger.append(stream, version++, draftOf(entry))))
  }
}

const draftOf = ({ meta, recordedAt, events }: DayEntry): Draft =>
  ({ meta: { ...meta, command: 'any', bodyDigest: '0'.repeat(64), seenVersion: 0 }, recordedAt, events }) as never

function morning(driven: ReturnType<typeof c.drive>, students: readonly { studentId: string; bib: string }[]): void {
  for (const { studentId, bib } of students) {
    const of = { studentId: studentId as never }
    driven.tell('checkIn', c.kiosk, { ...of, secondIdentifier: 'birthDate' })
    driven.tell('bindBib', c.bo, { ...of, bib: bib as never })
    driven.tell('recordClearance', c.petra, { ...of, clearanceId: `k-${bib}` as never, status: 'cleared', limits: [], supersedes: null })
    driven.tell('weigh', c.petra, {
      ...of,
      mass: { amount: 75_000, unit: 'grams', resolution: 50, method: 'scale' },
      scaleId: 'S-1' as never,
      keptUnusual: false,
    })
  }
  driven.tell('confirmWarmUp', c.bo, { studentIds: students.map(({ studentId }) => studentId as never) })
  driven.reading(21)
}

/** In line, called up, a try or a refusal, a reading now and then, a hold over the track every so often. */
function oneVisit(driven: ReturnType<typeof c.drive>, id: string, round: number): void {
  const studentId = id as never
  const stationId = (['agility', 'reach', 'bench'] as const)[round % 3] as never
  const attemptId = `try-${round}` as never
  driven.tell('joinQueue', c.mira, { studentId, stationId })
  driven.tell('callUp', c.mira, { studentId, stationId })
  const value = [c.seconds(1700 + (round % 300)), c.reach(300 + (round % 90)), c.kilograms(800)][round % 3]!
  const official = round < 240
  driven.tell('startAttempt', c.mira, {
    attemptId,
    studentId,
    stationId,
    official,
    load: round % 3 === 2 ? value : null,
    equipmentIds: [],
    observerId: null,
    earlyBecause: c.words,
  })
  driven.tell('recordResult', c.mira, {
    observationId: `seen-${round}` as never,
    attemptId,
    studentId,
    stationId,
    outcome: 'good',
    value,
    folds: [],
    fault: null,
    equipmentIds: [],
    keptUnusual: false,
    official,
    photoDigest: null,
    fromPaper: null,
  })
  if (round % 40 === 0) driven.reading(21 + (round % 5))
  if (round % 160 === 159) {
    const holdId = `hold-${round}` as never
    driven.tell('raiseHold', c.rashid, { holdId, kind: 'other', zoneId: 'track' as never })
    driven.tell('acknowledgeHold', c.wren, { holdId })
    driven.tell('disposeHold', c.rashid, { holdId, disposition: 'stopAndWalkIn' })
    driven.tell('proposeLift', c.rashid, { holdId, readingId: null, reason: c.words })
    driven.tell('confirmLift', c.tomas, { holdId })
  }
}
