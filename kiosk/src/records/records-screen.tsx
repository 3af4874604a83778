import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import '../office/office.css'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { Shell } from '../shell/shell.tsx'
import '../supervisor/supervisor.css'
import { words } from '../words/words.ts'
import { Classes } from './classes.tsx'
import { DuePart } from './due.tsx'
import { FindStudent } from './find-student.tsx'
import './records.css'
import { StudentFilePart } from './student-file.tsx'

type Part = keyof typeof words.records.tabs
const parts: readonly Part[] = ['student', 'due', 'classes']

/** What the academy keeps over the years. The address keeps where one stands. */
export function RecordsScreen({ house }: { house: House }) {
  const [at, go] = useState(location.hash.slice(1))
  const [part = 'student', studentId = ''] = at.split('/')
  const open = (to: string) => {
    history.replaceState(null, '', `#${to}`)
    go(to)
  }
  const shown = parts.find((one) => one === part) ?? 'student'
  return (
    <Shell house={house} screen={words.records.title} roles={['supervisor', 'coordinator', 'auditor']} englishOnly dayless>
      {() => (
        <div class="stack office">
          <Tabs
            label={words.records.parts}
            value={shown}
            choices={parts.map((value) => ({ value, says: words.records.tabs[value] }))}
            onChange={open}
          />
          {shown === 'due' && <DuePart house={house} />}
          {shown === 'classes' && <Classes house={house} />}
          {shown === 'student' &&
            (studentId ? (
              <StudentFilePart key={studentId} house={house} studentId={studentId} onAnother={() => open('student')} />
            ) : (
              <FindStudent house={house} onOpen={(one) => open(`student/${one}`)} />
            ))}
        </div>
      )}
    </Shell>
  )
}
