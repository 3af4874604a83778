import { canonical } from '@musterbook/evidence/canonical'
import type { Day } from '@musterbook/day/day'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import { events, fold, type Recorded } from './moments.ts'

/**
 * What may be laid before people who were not there: one student alone. Everybody else is a letter, and nothing of the
 * medical desk is in it: no clearance, no stop, no referral, no refusal for want of a clearance.
 */
export interface HearingCopy {
  form: 'musterbook hearing copy 1'
  dayId: DayId
  /** Entries it was made from, and the hash of the last of them. */
  head: { entries: number; hash: string }
  studentId: string
  record: RecordView
  rules: unknown
  entries: HearingEntry[]
  /** How many others are named by a letter. */
  others: number
}
export interface HearingEntry {
  stream: string
  version: number
  recordedAt: number
  happenedAt: number
  bandMs: number
  personId: string | null
  deviceId: string
  events: DayEvent[]
}

const medical: ReadonlySet<DayEvent['type']> = new Set([
  'clearanceRecorded',
  'clearanceWithdrawn',
  'studentStopped',
  'stopperNamed',
  'stopAnswered',
  'studentReferred',
  'referralAnswered',
  'studentRestored',
  'healthEventReported',
  'staffCalled',
  'callAnswered',
])
/** Of the place and not of anybody: heat, holds, instruments, the seal. */
const ofThePlace: ReadonlySet<DayEvent['type']> = new Set([
  'readingReceived',
  'holdRaised',
  'holdDisposed',
  'holdLifted',
  'equipmentChecked',
  'daySealed',
  'afterOpened',
  'reopened',
])
const medicalWords = /clear|stopp|medical|health|referral|restor/i

export function hearingCopy(dayId: DayId, recorded: Recorded, head: HearingCopy['head'], studentId: StudentId): HearingCopy | null {
  const day = fold(dayId, recorded)
  const record = recordView(day, studentId)
  if (!record) return null
  const letters = lettersOf(day, studentId)
  const hidden = <T>(value: T): T => hide(value, letters) as T
  return {
    form: 'musterbook hearing copy 1',
    dayId,
    head,
    studentId,
    record: hidden(withoutMedical(record)),
    rules: day.opened?.rules ?? null,
    entries: recorded.flatMap((entry) => {
      const kept = events(entry).filter((event) => isShown(event, studentId))
      if (kept.length === 0) return []
      const { stream, version, recordedAt, meta } = entry
      const { bandMs, personId, deviceId } = meta
      return [{ stream, version, recordedAt, happenedAt: happenedAt(meta), bandMs, personId, deviceId, events: hidden(kept) }]
    }),
    others: letters.students.size,
  }
}

function isShown(event: DayEvent, studentId: StudentId): boolean {
  if (medical.has(event.type) || event.type === 'dayOpened') return false
  if (event.type === 'actRefused' && medicalWords.test(event.rule)) return false
  if (event.type === 'reviewOpened' && medicalWords.test(event.because)) return false
  if (ofThePlace.has(event.type)) return true
  const isOfAnother = 'studentId' in event && event.studentId !== null && event.studentId !== studentId
  const comesFromAnother = event.type === 'corrected' && event.change.kind === 'reassign' && event.change.toStudentId === studentId
  return comesFromAnother || (!isOfAnother && canonical(event).includes(canonical(studentId)))
}

const withoutMedical = (record: RecordView): RecordView => ({
  ...record,
  stopped: false,
  reviews: record.reviews.filter(({ because }) => !medicalWords.test(because)),
  refusals: record.refusals.filter(({ rule, act }) => !medicalWords.test(rule) && !medicalWords.test(act)),
  entitlements: record.entitlements.map((one) => ({ ...one, because: medicalWords.test(one.because) ? 'notSaid' : one.because })),
  stations: record.stations.map((station) => ({
    ...station,
    attempts: station.attempts.map((attempt) => ({
      ...attempt,
      interruptedBy: attempt.interruptedBy === 'medicalStop' ? null : attempt.interruptedBy,
      openReviews: attempt.openReviews.filter((because) => !medicalWords.test(because)),
    })),
  })),
})

interface Letters {
  students: ReadonlyMap<string, string>
  bibs: ReadonlyMap<string, string>
  /** Tries and observations of others, whose ids may say whose they are. */
  things: ReadonlyMap<string, string>
}

/** In the order of their bibs, so that two copies of one day name the same student by the same letter. */
function lettersOf(day: Day, studentId: StudentId): Letters {
  const others = [...day.students.values()]
    .filter((student) => student.studentId !== studentId)
    .sort((one, other) => Number(one.bib ?? 99_999) - Number(other.bib ?? 99_999) || (one.studentId < other.studentId ? -1 : 1))
  const named = others.map((student, index) => ({ student, letter: letterOf(index) }))
  return {
    students: new Map(named.map(({ student, letter }) => [student.studentId, letter])),
    bibs: new Map(named.flatMap(({ student, letter }) => (student.bib ? [[student.bib, letter]] : []))),
    things: new Map(
      named.flatMap(({ student, letter }) =>
        student.attempts.map((attempt, at) => [attempt.attemptId as string, `${letter}-try-${at + 1}`]),
      ),
    ),
  }
}

/** A … Z, AA, AB …: what columns of a sheet are called. */
function letterOf(index: number): string {
  const last = String.fromCharCode(65 + (index % 26))
  return index < 26 ? last : letterOf(Math.floor(index / 26) - 1) + last
}

function hide(value: unknown, letters: Letters, key = ''): unknown {
  if (typeof value === 'string') return hideText(value, letters, key)
  if (Array.isArray(value)) return value.map((one) => hide(one, letters, key))
  if (value === null || typeof value !== 'object') return value
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, hide(one, letters, name)]))
}

function hideText(text: string, { students, bibs, things }: Letters, key: string): string {
  const whole =
    students.get(text) ?? things.get(text) ?? (key === 'bib' || key === 'replaces' || key === 'bibs' ? bibs.get(text) : undefined)
  if (whole) return whole
  for (const [studentId, letter] of students)
    if (text.includes(studentId) && !/^\d+$/.test(studentId)) return text.replaceAll(studentId, letter)
  return text
}
