import type { MedicalStudent } from '@musterbook/day/views/medical'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'

/** What stands about somebody, gravest first. */
export function Marks({ student }: { student: MedicalStudent }) {
  return (
    <span class="medical-marks">
      {student.stop && <Mark state="stopped" />}
      {student.referrals.some(({ outcome }) => outcome === null) && <Mark state="review" says={words.medical.referred} />}
      {student.healthEvent && <Mark state="review" says={words.medical.healthEvent} />}
      {student.conflict && <Mark state="review" says={words.medical.conflict} />}
      {student.skipped && <Mark state="notMet" says={words.medical.skipped} />}
      <Mark state={student.clearance.status} />
      {student.late && <Mark state="limited" says={words.floor.late} />}
    </span>
  )
}
