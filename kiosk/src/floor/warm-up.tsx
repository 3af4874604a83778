import { useState } from 'preact/hooks'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import type { OnFloor } from './lists.ts'
import { Marks } from './marks.tsx'

/** The warm-up ends for a group at once: touch who took part, then one key. */
export function WarmUp({ house, students, onOpen }: { house: House; students: readonly OnFloor[]; onOpen: (studentId: string) => void }) {
  const [chosen, choose] = useState<ReadonlySet<string>>(new Set())
  const still = students.filter(({ studentId }) => chosen.has(studentId))
  const turn = (studentId: string) =>
    choose(chosen.has(studentId) ? new Set([...chosen].filter((one) => one !== studentId)) : new Set([...chosen, studentId]))
  const confirm = async () => {
    const studentIds = still.map(({ studentId }) => studentId as StudentId)
    const said = await tell(house, words.floor.warmUpSaid(studentIds.length), 'confirmWarmUp', { studentIds })
    if (said.said === 'recorded') choose(new Set())
  }

  return (
    <>
      <p>{words.floor.chooseGroup}</p>
      <div class="row">
        <Button size="small" onPress={() => choose(new Set(students.map(({ studentId }) => studentId)))}>
          {words.floor.selectAll}
        </Button>
        {still.length > 0 && (
          <Button size="small" onPress={() => choose(new Set())}>
            {words.floor.selectNone}
          </Button>
        )}
      </div>
      <ul class="floor-list">
        {students.map((student) => {
          const card = shown(house, student.studentId, student.bib)
          return (
            <li key={student.studentId} class="floor-pick">
              <label class="floor-row" data-chosen={chosen.has(student.studentId) || undefined}>
                <input type="checkbox" checked={chosen.has(student.studentId)} onChange={() => turn(student.studentId)} />
                <StudentCard student={card}>
                  <Marks house={house} student={student} list="warmUp" />
                </StudentCard>
              </label>
              <Button size="small" label={words.floor.open(card.name)} onPress={() => onOpen(student.studentId)}>
                {words.floor.openShort}
              </Button>
            </li>
          )
        })}
      </ul>
      {still.length > 0 && (
        <div class="floor-confirm">
          <Button kind="primary" size="key" wide onPress={() => void confirm()}>
            {words.floor.confirmWarmUp(still.length)}
          </Button>
        </div>
      )}
    </>
  )
}
