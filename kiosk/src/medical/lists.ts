import type { MedicalStudent } from '@musterbook/day/views/medical'

export type ListName = 'first' | 'waiting' | 'decided' | 'expected'

const isOpen = (student: MedicalStudent): boolean =>
  student.stop !== null ||
  student.conflict ||
  student.skipped ||
  student.healthEvent ||
  student.referrals.some(({ outcome }) => outcome === null)

/** Each student stands on one list: what needs the screener at once comes before everything else. */
function listOf(student: MedicalStudent): ListName {
  if (isOpen(student)) return 'first'
  if (student.clearance.status !== 'pending') return 'decided'
  return student.presence === 'present' ? 'waiting' : 'expected'
}

export const listed = (students: readonly MedicalStudent[], list: ListName): MedicalStudent[] =>
  students.filter((student) => listOf(student) === list)
