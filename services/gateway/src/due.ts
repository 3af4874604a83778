import type { DayView } from '@musterbook/day/views'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { Erasure } from '@musterbook/vocabulary/records'
import { siteDate } from './site-date.ts'
import type { Tools } from './tools.ts'

export interface DueRecord {
  studentId: StudentId
  name: string
  code: string
  lastTested: string
  /** First civil date on which it may go: both classes of record end together, at the later of their years. */
  since: string
  /** What holds it all the same; null: nothing does. */
  heldBy: string | null
}
export interface Due {
  /** null: no rules of records are in force, so nothing is due. */
  policy: string | null
  due: DueRecord[]
  /** Asked for and not yet confirmed, and those done, newest first. */
  erasures: (Erasure & { name: string | null; askedByName: string; confirmedByName: string | null })[]
}

/** What the schedule says is over. It is a list to look at: people erase, two of them. */
export async function dueForErasure(tools: Tools): Promise<Due> {
  const { office, views } = tools
  const [policy, erasures, cases, people] = await Promise.all([
    office.recordsPolicy(),
    office.erasures(),
    office.cases(null),
    office.people(),
  ])
  const today = await siteDate(tools)
  const lastTested = new Map<StudentId, string>()
  for (const { body } of await views.days()) {
    const { date, studentIds } = body as DayView
    for (const studentId of (studentIds ?? []) as StudentId[]) if ((lastTested.get(studentId) ?? '') < date) lastTested.set(studentId, date)
  }
  const named = (personId: string) => people.find((one) => one.personId === personId)?.name ?? personId
  const due: DueRecord[] = []
  for (const [studentId, date] of lastTested) {
    if (!policy) break
    const since = yearsAfter(date, Math.max(policy.keepYears.record, policy.keepYears.medical))
    const student = since <= today ? await office.student(studentId) : null
    if (!student) continue
    const holding = cases.find(
      (one) => one.studentId === studentId && (one.deletionHeld || (one.keepUntil !== null && one.keepUntil >= today)),
    )
    due.push({ studentId, name: student.name, code: student.code, lastTested: date, since, heldBy: holding?.caseId ?? null })
  }
  const told = await Promise.all(
    erasures.map(async (one) => ({
      ...one,
      name: (await office.student(one.studentId))?.name ?? null,
      askedByName: named(one.askedBy),
      confirmedByName: one.erased && named(one.erased.confirmedBy),
    })),
  )
  return {
    policy: policy?.id ?? null,
    due: due.sort((one, other) => (one.since < other.since ? -1 : 1)),
    erasures: told.sort((one, other) => other.askedAt - one.askedAt),
  }
}

/** The day after the same date so many years on: 29 February ends with February. */
export function yearsAfter(date: string, years: number): string {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number]
  const last = new Date(Date.UTC(year + years, month, 0)).getUTCDate()
  return new Date(Date.UTC(year + years, month - 1, Math.min(day, last) + 1)).toISOString().slice(0, 10)
}
