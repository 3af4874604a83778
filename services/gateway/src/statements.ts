import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'

/** What the student stated in any case about that day. */
export async function statementsOf(office: Pick<Office, 'cases' | 'case'>, dayId: DayId, studentId: StudentId): Promise<string[]> {
  const briefs = (await office.cases(dayId)).filter((one) => one.studentId === studentId)
  const whole = await Promise.all(briefs.map(({ caseId }) => office.case(caseId)))
  return whole.flatMap((one) => one?.statements.map(({ words }) => words) ?? [])
}
