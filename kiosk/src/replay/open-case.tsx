import { useState } from 'preact/hooks'
import type { CaseKind } from '@musterbook/vocabulary/case'
import type { RecordsPolicy } from '@musterbook/vocabulary/records'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { whoIs } from '../supervisor/who.ts'
import { words } from '../words/words.ts'
import { answerBy } from './answer-by.ts'
import { tellCase } from './case-acts.ts'
import type { Desk } from './desk.ts'
import type { Place } from './replay-screen.tsx'
import { FindStudent } from './student.tsx'

interface Props {
  desk: Desk
  place: Place
  onOpened: (caseId: string) => void
  onBack: () => void
}

/** What is asked, by whom, since when, and by when it is to be answered. */
export function OpenCase({ desk, place, onOpened, onBack }: Props) {
  const today = new Date(desk.house.clock.siteNow()).toISOString().slice(0, 10)
  const [studentId, who] = useState(place.studentId)
  const [kind, choose] = useState<CaseKind>('dispute')
  const [stationId, about] = useState(place.stationId)
  const [question, write] = useState('')
  const [receivedOn, received] = useState(today)
  const [typed, until] = useState<string | undefined>(undefined)
  const policy = useFetched<RecordsPolicy | null>(desk.house, '/api/records/policy')
  const byPolicy = answerBy(receivedOn, policy.value?.answerDays[kind])
  const { cases: say } = words.replay
  const student = desk.now.students.get(studentId as never)
  if (!student) return <FindStudent desk={desk} onChoose={who} />
  const open = async () => {
    const body = { dayId: desk.dayId, studentId, stationId: stationId || null, kind, question, receivedOn, answerBy: typed ?? byPolicy }
    const said = await tellCase(desk.house, say.opened, 'openCase', body)
    if (said.said === 'recorded') onOpened(said.body['caseId'] ?? '')
  }
  return (
    <form class="sheet stack" onSubmit={(event) => (event.preventDefault(), void open())}>
      <h2>{whoIs(desk.house, studentId, student.bib)}</h2>
      <div class="supervisor-pair">
        <Choice
          label={say.kind}
          value={kind}
          choices={(Object.keys(say.kinds) as CaseKind[]).map((value) => ({ value, says: say.kinds[value] }))}
          onChange={(value) => choose(value as CaseKind)}
        />
        <Choice
          label={say.test}
          value={stationId}
          blank={say.anyTest}
          choices={(desk.house.day.value?.stations ?? []).map((one) => ({ value: one.stationId, says: one.name }))}
          onChange={about}
        />
        <Field label={say.receivedOn} type="date" value={receivedOn} onInput={received} />
        <Field label={say.answerBy} hint={say.answerByHelp} type="date" value={typed ?? byPolicy} onInput={until} />
      </div>
      <Field label={say.question} long value={question} onInput={write} maxLength={4000} />
      <div class="row">
        <Button type="submit" kind="primary">
          {say.open}
        </Button>
        <Button kind="quiet" onPress={onBack}>
          {say.back}
        </Button>
      </div>
    </form>
  )
}
