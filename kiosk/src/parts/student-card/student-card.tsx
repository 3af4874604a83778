import type { ComponentChildren } from 'preact'
import { words } from '../../words/words.ts'
import { Face } from '../face/face.tsx'
import './student-card.css'

/** Who a student is on a screen: never more than it takes to call the right person. */
export interface StudentShown {
  id: string
  name: string
  bib?: string | undefined
  class?: string | undefined
  /** Seed of a drawn face, where there is no photo. */
  face?: string | undefined
  photo?: string | undefined
  /** Somebody else today has a name that looks or sounds like this one. */
  lookAlike?: boolean | undefined
}

export interface StudentCardProps {
  student: StudentShown
  size?: 'normal' | 'large'
  /** Marks, waits or buttons, at the end of the card. */
  children?: ComponentChildren
}

/** Photo, bib and name together, wherever something is entered for a person. */
export function StudentCard({ student, size = 'normal', children }: StudentCardProps) {
  return (
    <div class={`student student-${size}`}>
      <Picture student={student} />
      <div class="student-who">
        <span class="student-line">
          {student.bib && (
            <span class="student-bib figures">
              <span class="spoken">{words.student.bib} </span>
              {student.bib}
            </span>
          )}
          <span class="student-name" dir="auto">
            {student.name}
          </span>
        </span>
        {(student.class || student.lookAlike) && (
          <span class="student-line student-line-less">
            {student.class && <span class="student-class">{student.class}</span>}
            {student.lookAlike && <LookAlike />}
          </span>
        )}
      </div>
      {children !== undefined && <div class="student-more">{children}</div>}
    </div>
  )
}

/** The picture alone; the name stands beside it. */
export function Picture({ student }: { student: StudentShown }) {
  return (
    <span class="student-picture">{student.photo ? <img src={student.photo} alt="" /> : <Face seed={student.face ?? student.id} />}</span>
  )
}

/** Two names today could be taken for one another. Shown on every screen that shows one of them. */
function LookAlike() {
  return (
    <span class="look-alike">
      <svg viewBox="0 0 30 20" aria-hidden="true" focusable="false">
        <circle cx="10" cy="10" r="8" />
        <circle cx="20" cy="10" r="8" />
      </svg>
      {words.student.lookAlike}
    </span>
  )
}
