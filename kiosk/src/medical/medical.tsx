import { useState } from 'preact/hooks'
import type { MedicalView } from '@musterbook/day/views/medical'
import { answersTo, byBib } from '../house/find.ts'
import { shown, type House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Field } from '../parts/field/field.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { FindByBib } from '../shell/find-by-bib.tsx'
import { words } from '../words/words.ts'
import { AccessLog } from './access-log.tsx'
import { listed, type ListName } from './lists.ts'
import { Marks } from './marks.tsx'
import { StudentFile } from './student-file.tsx'

const lists = ['first', 'waiting', 'decided', 'expected'] as const

export function Medical({ house, view }: { house: House; view: MedicalView }) {
  const [list, choose] = useState<ListName>('waiting')
  const [sought, seek] = useState('')
  const [studentId, pick] = useState<string | undefined>(undefined)
  const picked = view.students.find((student) => student.studentId === studentId)
  const open = listed(view.students, 'first')
  // A bib or a name is sought in the whole day: nobody has to know which list somebody is on.
  const found = (sought.trim() === '' ? listed(view.students, list) : view.students.filter((one) => answersTo(house, sought, one))).sort(
    byBib(house),
  )

  return (
    <div class="medical stack">
      <p role="status" class="medical-now" data-open={open.length > 0 || undefined}>
        {words.medical.actNow(open.length)}
      </p>
      <Tabs
        label={words.medical.lists}
        value={list}
        choices={lists.map((name) => ({ value: name, says: words.medical.list[name], detail: String(listed(view.students, name).length) }))}
        onChange={(name) => {
          choose(name as ListName)
          seek('')
        }}
      />
      <div class="split">
        <section class="stack" aria-labelledby="students">
          <h2 id="students">{sought.trim() === '' ? words.medical.list[list] : words.medical.students}</h2>
          <div class="row fields">
            <Field label={words.medical.find} type="search" value={sought} onInput={seek} autoComplete="off" optional />
            <FindByBib house={house} students={view.students} onFound={(student) => pick(student.studentId)} />
          </div>
          {found.length === 0 ? (
            <EmptyState says={words.medical.nobody} />
          ) : (
            <ul class="medical-list">
              {found.map((student) => {
                const card = shown(house, student.studentId, student.bib)
                return (
                  <li key={student.studentId}>
                    <button
                      type="button"
                      class="medical-row"
                      aria-current={student.studentId === studentId || undefined}
                      onClick={() => pick(student.studentId)}
                    >
                      <span class="spoken">{words.medical.open(card.name)}</span>
                      <StudentCard student={card}>
                        <Marks student={student} />
                      </StudentCard>
                    </button>
                  </li>
                )
              })}
            </ul>
          )}
        </section>
        <div class="medical-file">
          {picked ? (
            <StudentFile key={picked.studentId} house={house} view={view} student={picked} onClose={() => pick(undefined)} />
          ) : (
            <EmptyState says={words.medical.choose} help={words.medical.chooseHelp} />
          )}
        </div>
      </div>
      <AccessLog house={house} />
    </div>
  )
}
