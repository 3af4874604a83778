import type { StudentId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import type { OnFloor } from './lists.ts'
import { Marks } from './marks.tsx'

interface Props {
  house: House
  students: readonly OnFloor[]
  chosen: ReadonlySet<string>
  onChoose: (chosen: ReadonlySet<string>) => void
  onOpen: (studentId: string) => void
}

/** Who took part: a touch each, or all of them. */
export function WarmUp({ house, students, chosen, onChoose, onOpen }: Props) {
  const turn = (studentId: string) =>
    onChoose(chosen.has(studentId) ? new Set([...chosen].filter((one) => one !== studentId)) : new Set([...chosen, studentId]))
  return (
    <>
      <p>{words.floor.chooseGroup}</p>
      <div class="row">
        <Button size="small" onPress={() => onChoose(new Set(students.map(({ studentId }) => studentId)))}>
          {words.floor.selectAll}
        </Button>
        {chosen.size > 0 && (
          <Button size="small" onPress={() => onChoose(new Set())}>
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
    </>
  )
}

/** The warm-up ends for a group at once: one key, beside the list and always in sight. */
export function ConfirmWarmUp({ house, chosen, onDone }: { house: House; chosen: readonly OnFloor[]; onDone: () => void }) {
  const confirm = async () => {
    const studentIds = chosen.map(({ studentId }) => studentId as StudentId)
    const said = await tell(house, words.floor.warmUpSaid(studentIds.length), 'confirmWarmUp', { studentIds })
    if (stands(said)) onDone()
  }
  return (
    <Button kind="primary" size="key" wide onPress={() => void confirm()}>
      {words.floor.confirmWarmUp(chosen.length)}
    </Button>
  )
}
