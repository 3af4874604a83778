import type { CaseBrief } from '@musterbook/vocabulary/case'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { whoIs } from '../supervisor/who.ts'
import { words } from '../words/words.ts'
import { CasePage } from './case-page.tsx'
import type { Desk } from './desk.ts'
import { OpenCase } from './open-case.tsx'
import type { Place } from './replay-screen.tsx'

interface Props {
  desk: Desk
  place: Place
  onGo: (change: Partial<Place>) => void
}

/** Cases about this day: all of them, a new one, or one. */
export function Cases({ desk, place, onGo }: Props) {
  const { cases: say } = words.replay
  const back = () => onGo({ caseId: '' })
  if (place.caseId === 'new') return <OpenCase desk={desk} place={place} onOpened={(caseId) => onGo({ caseId })} onBack={back} />
  if (place.caseId) return <CasePage key={place.caseId} desk={desk} caseId={place.caseId} onGo={onGo} />
  return (
    <div class="stack">
      <h2>{say.list}</h2>
      <div class="row">
        <Button onPress={() => onGo({ caseId: 'new' })}>{words.replay.dispute}</Button>
      </div>
      <List desk={desk} onOpen={(one) => onGo({ caseId: one.caseId, studentId: one.studentId, stationId: one.stationId ?? '' })} />
    </div>
  )
}

function List({ desk, onOpen }: { desk: Desk; onOpen: (one: CaseBrief) => void }) {
  const { cases: say } = words.replay
  const cases = useFetched<CaseBrief[]>(desk.house, `/api/cases?dayId=${encodeURIComponent(desk.dayId)}`)
  if (!cases.value) return <p role="status">{words.office.loading}</p>
  if (cases.value.length === 0) return <EmptyState says={say.none} />
  return (
    <ul class="record-find">
      {cases.value.map((one) => (
        <li key={one.caseId}>
          <Button wide detail={`${say.row(say.kinds[one.kind], one.answerBy)}: ${say.states[one.state]}`} onPress={() => onOpen(one)}>
            {whoIs(desk.house, one.studentId, desk.now.students.get(one.studentId)?.bib ?? null)}
          </Button>
        </li>
      ))}
    </ul>
  )
}
