import { useEffect, useRef, useState } from 'preact/hooks'
import type { MedicalStudent, MedicalView } from '@musterbook/day/views/medical'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { tell } from '../shell/shell.tsx'
import { figure } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { Answers } from './answers.tsx'
import { Decide } from './decide.tsx'
import { Marks } from './marks.tsx'
import { Note } from './note.tsx'
import { Referrals } from './referrals.tsx'
import { Standing } from './standing.tsx'
import { Stopped } from './stopped.tsx'

interface Props {
  house: House
  view: MedicalView
  student: MedicalStudent
  onClose: () => void
}

/** One student: what cannot wait, what stands, the decision, then what is sealed. */
export function StudentFile({ house, view, student, onClose }: Props) {
  const heading = useRef<HTMLHeadingElement>(null)
  const [reporting, report] = useState(false)
  const [kept, count] = useState(0)
  useEffect(() => {
    heading.current?.focus()
    heading.current?.scrollIntoView({ block: 'nearest' })
  }, [])
  const card = shown(house, student.studentId, student.bib)
  const who = student.bib ? `${words.common.bib(student.bib)} ${card.name}` : card.name
  const about = { house, student, who, studentId: student.studentId as StudentId }

  return (
    <section class="sheet stack" aria-labelledby="file">
      <h2 id="file" ref={heading} tabIndex={-1} class="medical-who">
        <span class="spoken">{who}</span>
        <StudentCard size="large" student={card} />
      </h2>
      <Marks student={student} />
      {student.massAmount !== null && student.massUnit === 'grams' && (
        <p class="figures">{words.medical.massToday(figure(student.massAmount / 1000, 2))}</p>
      )}
      {student.stop && <Stopped {...about} stop={student.stop} />}
      <Referrals {...about} />
      <Standing {...about} view={view} />
      <Answers house={house} studentId={student.studentId} kept={kept} />
      <Decide {...about} view={view} />
      <Note house={house} studentId={student.studentId} onKept={() => count(kept + 1)} />
      <section class="stack" aria-labelledby="health-event">
        <h3 id="health-event">{words.medical.healthEventTitle}</h3>
        <p>{words.medical.healthEventHelp}</p>
        <div class="row">
          {reporting ? (
            <>
              <Button
                kind="primary"
                onPress={() => {
                  report(false)
                  void tell(house, words.medical.healthEventSaid(who), 'reportHealthEvent', { studentId: about.studentId, words: null })
                }}
              >
                {words.common.confirm}
              </Button>
              <Button onPress={() => report(false)}>{words.common.cancel}</Button>
            </>
          ) : (
            <Button onPress={() => report(true)}>{words.medical.reportHealthEvent}</Button>
          )}
        </div>
      </section>
      <div class="row">
        <Button onPress={onClose}>{words.common.close}</Button>
      </div>
    </section>
  )
}

export interface About {
  house: House
  student: MedicalStudent
  studentId: StudentId
  /** For the sentence that says what was recorded. */
  who: string
}
