import type { House } from '../house/house.ts'
import { shown } from '../house/house.ts'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { words } from '../words/words.ts'
import type { ListName, OnFloor } from './lists.ts'
import { Marks } from './marks.tsx'

interface Props {
  house: House
  students: readonly OnFloor[]
  list: ListName
  picked: string | undefined
  onOpen: (studentId: string) => void
}

/** One row a student; the whole row opens them. */
export function StudentList({ house, students, list, picked, onOpen }: Props) {
  return (
    <ul class="floor-list">
      {students.map((student) => {
        const card = shown(house, student.studentId, student.bib)
        return (
          <li key={student.studentId}>
            <button
              type="button"
              class="floor-row"
              aria-current={student.studentId === picked || undefined}
              onClick={() => onOpen(student.studentId)}
            >
              <span class="spoken">{words.floor.open(card.name)}</span>
              <StudentCard student={card}>
                <Marks house={house} student={student} list={list} />
              </StudentCard>
            </button>
          </li>
        )
      })}
    </ul>
  )
}
