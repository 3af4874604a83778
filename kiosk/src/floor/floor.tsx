import { useState } from 'preact/hooks'
import type { FloorView } from '@musterbook/day/views/board'
import { answersTo, byBib } from '../house/find.ts'
import type { House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Field } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { FindByBib } from '../shell/find-by-bib.tsx'
import { words } from '../words/words.ts'
import { Calls } from './calls.tsx'
import { listed, type ListName, type OnFloor } from './lists.ts'
import { SignOffAll } from './sign-off-all.tsx'
import { StudentDesk } from './student-desk.tsx'
import { StudentList } from './student-list.tsx'
import { WalkIn } from './walk-in.tsx'
import { ConfirmWarmUp, WarmUp } from './warm-up.tsx'

const lists = ['arrivals', 'warmUp', 'queues', 'leaving'] as const

export function Floor({ house, view }: { house: House; view: FloorView }) {
  const [list, choose] = useState<ListName>('arrivals')
  const [sought, seek] = useState('')
  const [studentId, pick] = useState<string | undefined>(undefined)
  const [adding, add] = useState(false)
  const [warm, setWarm] = useState<ReadonlySet<string>>(new Set())
  const onList = listed(view.students, list)
  const found = onList.filter((student) => answersTo(house, sought, student)).sort(byBib(house))
  const warmedUp = list === 'warmUp' ? onList.filter((student) => warm.has(student.studentId)) : []
  const picksGroup = list === 'warmUp' && may(house, 'confirmWarmUp')
  const scanned = (student: OnFloor) => {
    if (picksGroup && onList.includes(student)) setWarm((before) => new Set([...before, student.studentId]))
    else pick(student.studentId)
  }
  const picked = view.students.find((student) => student.studentId === studentId)

  return (
    <div class="floor stack">
      <Calls house={house} calls={view.calls} />
      <Tabs
        label={words.floor.lists}
        value={list}
        choices={lists.map((name) => ({
          value: name,
          says: words.floor.list[name],
          detail: name === 'arrivals' ? undefined : String(listed(view.students, name).length),
        }))}
        onChange={(name) => choose(name as ListName)}
      />
      <div class="split floor-split">
        <section class="stack" aria-labelledby="students">
          <h2 id="students">{words.floor.list[list]}</h2>
          {list === 'arrivals' && <p class="figures">{countsOf(view)}</p>}
          <div class="row fields">
            <Field label={words.floor.find} type="search" value={sought} onInput={seek} autoComplete="off" optional />
            <FindByBib house={house} students={view.students} onFound={scanned} />
          </div>
          {found.length === 0 ? (
            <EmptyState says={onList.length === 0 ? words.floor.nobodyListed : words.floor.nobodyFound} />
          ) : picksGroup ? (
            <WarmUp house={house} students={found} chosen={warm} onChoose={setWarm} onOpen={pick} />
          ) : (
            <StudentList house={house} students={found} list={list} picked={studentId} onOpen={pick} />
          )}
          {list === 'leaving' && may(house, 'signOffStudent') && <SignOffAll house={house} students={onList} />}
          {list === 'arrivals' && may(house, 'walkIn') && !adding && (
            <div class="row">
              <Button onPress={() => add(true)}>{words.floor.walkInTitle}</Button>
            </div>
          )}
        </section>
        <div class="floor-desk">
          {warmedUp.length > 0 && <ConfirmWarmUp house={house} chosen={warmedUp} onDone={() => setWarm(new Set())} />}
          {adding ? (
            <WalkIn house={house} view={view} onDone={() => add(false)} />
          ) : picked ? (
            <StudentDesk key={picked.studentId} house={house} student={picked} onClose={() => pick(undefined)} />
          ) : (
            <EmptyState says={words.floor.choose} help={words.floor.chooseHelp} />
          )}
        </div>
      </div>
    </div>
  )
}

function countsOf({ students }: FloorView): string {
  const here = students.filter(({ presence }) => presence === 'present' || presence === 'complete')
  const of = (presence: string) => students.filter((student) => student.presence === presence).length
  return words.floor.counts(of('expected'), here.length, here.filter(({ late }) => late).length, of('absent'))
}
