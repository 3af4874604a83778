import { interrupts } from '../attempt/interrupts.ts'
import { shape, type Day } from '../day.ts'
import { grant, observe, refuse, type Asked, type Observed, type Permission } from '../decision.ts'

export function checkIn({ body }: Asked<'checkIn'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  const { presence } = shape(student)
  if (presence === 'present' || presence === 'complete') return refuse('alreadyCheckedIn', {}, about)
  if (presence === 'withdrawn') return refuse('withdrawn', {}, about)
  return grant({ type: 'checkedIn', ...body, late: day.firstEffortAt !== null })
}

/** A lost or swapped bib is given anew; the old number is free again. */
export function bindBib({ body }: Asked<'bindBib'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  const wearer = day.bibs.get(body.bib)
  if (wearer && wearer !== body.studentId) return refuse('bibTaken', { bib: body.bib }, about)
  return grant({ type: 'bibBound', ...body, replaces: student.bib === body.bib ? null : student.bib })
}

export function walkIn({ body }: Asked<'walkIn'>, day: Day): Permission {
  if (day.students.has(body.studentId)) return refuse('alreadyOnRoster', {}, { studentId: body.studentId })
  return grant({ type: 'studentExpected', ...body, retest: null, walkIn: true })
}

export function markAbsent({ body }: Asked<'markAbsent'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  const { presence } = shape(student)
  if (presence === 'present' || presence === 'complete') return refuse('alreadyCheckedIn', {}, about)
  return presence === 'withdrawn' ? refuse('withdrawn', {}, about) : grant({ type: 'studentAbsent', ...body })
}

/** The student's own choice: never argued with. What is under way ends without a score. */
export function withdraw({ body }: Asked<'withdraw'>, day: Day): Observed {
  return observe(...interrupts(day.students.get(body.studentId), 'withdrawal'), { type: 'studentWithdrew', ...body })
}

/** Raw results stay; both percentiles keep their basis. Two people. */
export function changeNormGroup({ body, by }: Asked<'changeNormGroup'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  if (!by.countersigned) return refuse('secondPersonMissing', {}, about)
  if (by.countersigned.personId === by.personId) return refuse('secondPersonSame', {}, about)
  return grant({
    type: 'normGroupChanged',
    studentId: body.studentId,
    from: student.normGroup,
    to: body.normGroup,
    reason: body.reason,
    countersigned: { personId: by.countersigned.personId },
  })
}
