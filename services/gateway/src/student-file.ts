import type { DayView } from '@musterbook/day/views'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import type { CaseBrief } from '@musterbook/vocabulary/case'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { type DayId } from '@musterbook/vocabulary/ids'
import type { Erasure } from '@musterbook/vocabulary/records'
import { siteDate } from './site-date.ts'
import { progressBetween, type ProgressLine } from './standings.ts'
import { supersededResults, type Superseded } from './superseded.ts'
import type { Tools } from './tools.ts'

/** Everything that the academy’s records hold of one student, oldest first. */
export interface StudentFile {
  studentId: string
  /** null: erased, or of another site. The pseudonym is all that is left. */
  who: { name: string; code: string; className: string; birthDate: string; left: boolean } | null
  erasure: Erasure | null
  days: {
    day: Pick<DayView, 'dayId' | 'date' | 'title' | 'rehearsal' | 'state' | 'timeZone'>
    record: RecordView
    superseded: Superseded[]
  }[]
  /** From the first test to each later one; rehearsals are compared with rehearsals. */
  progress: { from: string; to: string; lines: ProgressLine[] }[]
  entitlements: Entitled[]
  cases: CaseBrief[]
}
export interface Entitled {
  entitlementId: string
  dayId: string
  grantedOn: string
  stations: string[]
  until: string
  because: string
  /** `ended`: its last day is over and nobody came. */
  state: 'open' | 'used' | 'ended'
  /** The day on which the student came for it. */
  usedOn: string | null
}

export interface FoundStudent {
  studentId: string
  name: string
  code: string
  className: string
}

/** undefined: nothing is known of anybody under this id. */
export async function studentFile(tools: Tools, studentId: StudentId): Promise<StudentFile | undefined> {
  const { office, views, replay } = tools
  const [student, policy, erasures, cases, classes] = await Promise.all([
    office.student(studentId),
    office.recordsPolicy(),
    office.erasures(),
    office.cases(null),
    office.classes(),
  ])
  const known = (await views.days()).map((row) => row.body as DayView)
  const their = known.filter((one) => one.studentIds?.includes(studentId)).sort((one, other) => (one.date < other.date ? -1 : 1))
  const days: (Read & { superseded: Superseded[] })[] = []
  for (const day of their) {
    const whole = await replay.newest(day.dayId)
    const record = whole && recordView(whole, studentId)
    const recorded = await replay.entriesOf(day.dayId, 0, Number.MAX_SAFE_INTEGER)
    if (whole && record) days.push({ day, whole, record, superseded: supersededResults(day.dayId as DayId, recorded as never, studentId) })
  }
  const erasure = erasures.find((one) => one.studentId === studentId) ?? null
  if (!student && !erasure && days.length === 0) return undefined
  const errors = policy?.measurementErrors ?? []
  return {
    studentId,
    who: student && {
      name: student.name,
      code: student.code,
      className: classes.find(({ classId }) => classId === student.classId)?.name ?? student.classId,
      birthDate: student.birthDate,
      left: student.left,
    },
    erasure,
    days: days.map(({ day: { dayId, date, title, rehearsal, state, timeZone }, record, superseded }) => ({
      day: { dayId, date, title, rehearsal, state, timeZone },
      record,
      superseded,
    })),
    progress: days.flatMap((later, at) => {
      const first = days.slice(0, at).find(({ day }) => day.rehearsal === later.day.rehearsal && day.date < later.day.date)
      const lines = first ? progressBetween(first.whole, later.whole, studentId, errors) : []
      return first && lines.length > 0 ? [{ from: first.day.date, to: later.day.date, lines }] : []
    }),
    entitlements: entitled(days, studentId, await siteDate(tools)),
    cases: cases.filter((one) => one.studentId === studentId),
  }
}

type Read = { day: DayView; whole: NonNullable<Awaited<ReturnType<Tools['replay']['newest']>>>; record: RecordView }

function entitled(days: readonly Read[], studentId: StudentId, today: string): Entitled[] {
  return days.flatMap(({ day, record }) =>
    record.entitlements.map(({ entitlementId, stationIds, until, because }): Entitled => {
      const used = days.find(({ whole }) => whole.students.get(studentId)?.retest?.entitlementId === entitlementId)
      return {
        entitlementId,
        dayId: day.dayId,
        grantedOn: day.date,
        stations: stationIds.map((id) => record.stations.find(({ stationId }) => stationId === id)?.name ?? id),
        until,
        because,
        state: used ? 'used' : until < today ? 'ended' : 'open',
        usedOn: used?.day.date ?? null,
      }
    }),
  )
}
