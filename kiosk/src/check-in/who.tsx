import type { PersonOnDay } from '@musterbook/gateway/routes/people'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { words } from '../words/words.ts'

/** The student as the day will know them, shown to themselves. */
export function Who({ student }: { student: PersonOnDay }) {
  return (
    <div class="stack">
      <StudentCard
        size="large"
        student={{
          id: student.studentId,
          name: student.name,
          class: student.className,
          face: student.face,
          lookAlike: student.lookAlike.length > 0,
          ...(student.photoDigest && { photo: `/api/students/${student.studentId}/photo` }),
        }}
      />
      {student.lookAlike.length > 0 && <p>{words.checkIn.lookAlike}</p>}
    </div>
  )
}
