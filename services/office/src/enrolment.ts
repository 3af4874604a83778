import type { ClassId, PersonId, StudentId } from '@musterbook/vocabulary/ids'
import { ClassEvent, type NormSex, StudentEvent } from '@musterbook/vocabulary/office-events'
import type { Language } from '@musterbook/vocabulary/people'
import type { ErasureReason } from '@musterbook/vocabulary/records'
import { type Book, book } from './book.ts'
import type { Desk } from './desk.ts'
import { having } from './with.ts'

export interface Enrolled {
  normSex: NormSex
  language: Language
  left: boolean
}
interface ClassState {
  name: string
  students: ReadonlyMap<StudentId, Enrolled>
}
export interface StudentState {
  /** As corrected; null: as enrolled. */
  normSex: NormSex | null
  erasure: { because: ErasureReason; askedBy: PersonId; askedAt: number } | null
  erased: { at: number; confirmedBy: PersonId } | null
}
export interface Registers {
  classes: Book<ClassState, ClassEvent>
  students: Book<StudentState, StudentEvent>
}

export const registers = (desk: Desk): Registers => ({
  classes: book<ClassState, ClassEvent>(desk, { name: 'class', schema: ClassEvent, empty: { name: '', students: new Map() }, evolve }),
  students: book<StudentState, StudentEvent>(desk, {
    name: 'student',
    schema: StudentEvent,
    empty: { normSex: null, erasure: null, erased: null },
    evolve: evolveStudent,
  }),
})

function evolveStudent(state: StudentState, event: StudentEvent, { recordedAt }: { recordedAt: number }): StudentState {
  switch (event.type) {
    case 'normSexCorrected':
      return { ...state, normSex: event.to }
    case 'erasureAsked':
      return { ...state, erasure: { because: event.because, askedBy: event.askedBy, askedAt: recordedAt } }
    case 'erasureWithdrawn':
      return { ...state, erasure: null }
    case 'recordErased':
      return { ...state, erased: { at: recordedAt, confirmedBy: event.confirmedBy } }
    case 'birthDateCorrected':
      return state
  }
}

function evolve(state: ClassState, event: ClassEvent): ClassState {
  const change = (studentId: StudentId, changes: Partial<Enrolled>): ClassState => {
    const known = state.students.get(studentId)
    return known ? { ...state, students: having(state.students, studentId, { ...known, ...changes }) } : state
  }
  switch (event.type) {
    case 'classNamed':
      return { ...state, name: event.name }
    case 'studentEnrolled':
      return {
        ...state,
        students: having(state.students, event.studentId, { normSex: event.normSex, language: event.language, left: false }),
      }
    case 'studentChanged':
      return change(event.studentId, { language: event.language })
    case 'studentLeft':
      return change(event.studentId, { left: true })
  }
}

/** Every enrolment that stands, with its corrections. */
export async function everyoneEnrolled({ classes, students }: Registers): Promise<Map<StudentId, Enrolled & { classId: ClassId }>> {
  const everyone = new Map<StudentId, Enrolled & { classId: ClassId }>()
  for (const classId of await classes.ids()) {
    for (const [studentId, enrolled] of (await classes.read(classId)).state.students) {
      const elsewhere = everyone.get(studentId)
      // Moved to another class: the one that was not left counts.
      if (!elsewhere || elsewhere.left) everyone.set(studentId, { ...enrolled, classId: classId as ClassId })
    }
  }
  for (const studentId of await students.ids()) {
    const known = everyone.get(studentId as StudentId)
    const { normSex } = (await students.read(studentId)).state
    if (known && normSex) everyone.set(studentId as StudentId, { ...known, normSex })
  }
  return everyone
}
