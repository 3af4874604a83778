import { useState } from 'preact/hooks'
import type { DayView } from '@musterbook/day/views'
import type { FloorView } from '@musterbook/day/views/board'
import type { BriefingId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import type { Language } from '@musterbook/vocabulary/people'
import { byBib } from '../house/find.ts'
import { shown, type House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

interface Props {
  house: House
  students: FloorView['students']
  stations: readonly DayView['stations'][number][]
  language: Language
  onBack: () => void
  onDone: () => void
}

/** Who heard it: everybody who is here, but for those taken out by hand. */
export function Present({ house, students, stations, language, onBack, onDone }: Props) {
  const [absent, setAbsent] = useState<ReadonlySet<string>>(new Set())
  const [wrong, setWrong] = useState(false)
  const here = students.filter(({ presence }) => presence === 'present').sort(byBib(house))
  const present = here.filter(({ studentId }) => !absent.has(studentId))
  const turn = (studentId: string) =>
    setAbsent(absent.has(studentId) ? new Set([...absent].filter((one) => one !== studentId)) : new Set([...absent, studentId]))
  const record = async () => {
    if (present.length === 0) return setWrong(true)
    const tests = stations.map(({ name }) => name).join(', ')
    const said = await tell(house, words.briefing.recorded(present.length, tests), 'briefClass', {
      briefingId: newId('briefing') as BriefingId,
      studentIds: present.map(({ studentId }) => studentId as StudentId),
      stationIds: stations.map(({ stationId }) => stationId as StationId),
      language,
    })
    if (stands(said)) onDone()
  }

  return (
    <section class="stack" aria-labelledby="present">
      <h2 id="present">{words.briefing.presentTitle}</h2>
      {here.length === 0 ? (
        <EmptyState says={words.briefing.nobody} help={words.briefing.nobodyHelp} />
      ) : (
        <>
          <p>{words.briefing.presentHelp}</p>
          <ul class="briefing-present">
            {here.map((student) => (
              <li key={student.studentId}>
                <label data-chosen={!absent.has(student.studentId) || undefined}>
                  <input type="checkbox" checked={!absent.has(student.studentId)} onChange={() => turn(student.studentId)} />
                  <StudentCard student={shown(house, student.studentId, student.bib)}>
                    {stations.every(({ stationId }) => student.briefed.includes(stationId)) && (
                      <span class="quiet">{words.briefing.already}</span>
                    )}
                  </StudentCard>
                </label>
              </li>
            ))}
          </ul>
          {wrong && present.length === 0 && (
            <p role="alert" class="trouble">
              {words.briefing.nobodyTicked}
            </p>
          )}
        </>
      )}
      <div class="row briefing-record">
        {here.length > 0 && (
          <Button kind="primary" size="key" onPress={() => void record()}>
            {words.briefing.record(present.length)}
          </Button>
        )}
        <Button size="key" onPress={onBack}>
          {words.common.back}
        </Button>
      </div>
    </section>
  )
}
