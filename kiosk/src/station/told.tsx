import type { ComponentChildren } from 'preact'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { words } from '../words/words.ts'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  /** "Try 2 of 3", "Practice". */
  says: string
  children?: ComponentChildren
}

/** For whom, and which try: at the head of every work area, with photo, bib and name. */
export function Told({ house, student, says, children }: Props) {
  return (
    <div class="told">
      <StudentCard student={shown(house, student.studentId, student.bib)} />
      <p class="told-try figures">
        <strong>{says}</strong>
        <span>{words.station.triesUsed(student.triesUsed, student.tries)}</span>
      </p>
      {children}
    </div>
  )
}
