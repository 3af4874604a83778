import { useState } from 'preact/hooks'
import type { CaseBrief } from '@musterbook/vocabulary/case'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { whoIs } from '../supervisor/who.ts'
import { words } from '../words/words.ts'
import { mayCase, tellCase } from './case-acts.ts'
import type { Desk } from './desk.ts'

/** The record as it stands at this moment, added to an open case. The office computes its digest from the ledger. */
export function AddExhibit({ desk, entries, studentId }: { desk: Desk; entries: number; studentId: string }) {
  const cases = useFetched<CaseBrief[]>(desk.house, `/api/cases?dayId=${encodeURIComponent(desk.dayId)}`)
  const { cases: say } = words.replay
  const open = (cases.value ?? []).filter((one) => one.state !== 'closed' && (studentId === '' || one.studentId === studentId))
  const [chosen, choose] = useState('')
  const [note, write] = useState('')
  const caseId = chosen || (open[0]?.caseId ?? '')
  if (open.length === 0 || !mayCase(desk.house, 'addExhibit')) return null
  const add = async () => {
    const said = await tellCase(desk.house, say.added, 'addExhibit', { caseId, entries, note })
    if (said.said === 'recorded') write('')
  }
  return (
    <form class="sheet stack" aria-label={say.addExhibit} onSubmit={(event) => (event.preventDefault(), void add())}>
      <h3>{say.addExhibit}</h3>
      <div class="supervisor-pair">
        <Choice
          label={say.exhibitFor}
          value={caseId}
          choices={open.map((one) => ({
            value: one.caseId,
            says: `${whoIs(desk.house, one.studentId, null)}: ${say.row(say.kinds[one.kind], one.answerBy)}`,
          }))}
          onChange={choose}
        />
        <Field label={say.note} value={note} onInput={write} />
      </div>
      <Button type="submit">{say.addExhibit}</Button>
    </form>
  )
}
