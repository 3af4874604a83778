import { words } from '../../words/words.ts'
import { Dialog } from '../confirm-dialog/confirm-dialog.tsx'
import { NumberPad } from '../number-pad/number-pad.tsx'
import { Picture, type StudentShown } from '../student-card/student-card.tsx'
import './stop-dialog.css'

export interface StopDialogProps {
  open: boolean
  /** Under way or called up here: one touch stops one. */
  students: readonly StudentShown[]
  /** Everybody else with a bib, a key each: whoever is nowhere under way is stopped in two touches too. */
  others?: readonly string[] | undefined
  onStop: (student: { studentId: string } | { bib: string }) => void
  onClose: () => void
}

/** The second of the two touches that stop a student. It asks nothing: no reason, no "are you sure". */
export function StopDialog({ open, students, others = [], onStop, onClose }: StopDialogProps) {
  const stop = (student: { studentId: string } | { bib: string }) => {
    onStop(student)
    onClose()
  }
  return (
    <Dialog title={words.stopStudent.title} open={open} onClose={onClose} kind="stop" wide>
      <p>{words.stopStudent.help}</p>
      <div class="stop-choices">
        <section class="stack">
          {students.length > 0 && <h3>{words.stopStudent.underWayHere}</h3>}
          <ul class={students.length > 6 ? 'stop-students stop-many' : 'stop-students'}>
            {students.map((student) => (
              <li key={student.id}>
                <button type="button" class="button button-stop stop-student" onClick={() => stop({ studentId: student.id })}>
                  <Picture student={student} />
                  <span class="stop-words">
                    <span class="stop-bib figures">{student.bib ? words.stopStudent.stop(words.common.bib(student.bib)) : ''}</span>
                    <span dir="auto">{student.name}</span>
                    {student.lookAlike && <span>{words.student.lookAlike}</span>}
                  </span>
                </button>
              </li>
            ))}
          </ul>
          {others.length > 0 && (
            <>
              <h3>{words.stopStudent.others}</h3>
              <ul class="stop-bibs">
                {others.map((bib) => (
                  <li key={bib}>
                    <button
                      type="button"
                      class="button button-stop stop-other figures"
                      aria-label={words.stopStudent.stop(words.common.bib(bib))}
                      onClick={() => stop({ bib })}
                    >
                      {bib}
                    </button>
                  </li>
                ))}
              </ul>
            </>
          )}
        </section>
        <NumberPad
          label={words.stopStudent.bib}
          unit=""
          places={0}
          most={4}
          save={words.stopStudent.stopBib}
          saveKind="stop"
          listening
          onSave={(bib) => stop({ bib: String(bib) })}
        />
      </div>
    </Dialog>
  )
}
