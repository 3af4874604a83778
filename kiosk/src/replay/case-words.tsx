import { useState } from 'preact/hooks'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { mayCase, tellCase } from './case-acts.ts'
import { Part, staff, type CasePart } from './case-part.tsx'

/** What the student says, word for word, and what staff saw. */
export function CaseWords({ desk, one, onTold }: CasePart) {
  const [statement, writeStatement] = useState('')
  const [account, writeAccount] = useState('')
  const [personId, who] = useState('')
  const { cases: say } = words.replay
  const isOpen = one.closedAt === null
  const attach = async () => {
    const said = await tellCase(desk.house, say.attached, 'attachStatement', { caseId: one.caseId, words: statement })
    if (said.said !== 'recorded') return
    writeStatement('')
    onTold()
  }
  const attachAccount = async () => {
    const said = await tellCase(desk.house, say.accountAttached, 'attachAccount', { caseId: one.caseId, personId, words: account })
    if (said.said !== 'recorded') return
    writeAccount('')
    onTold()
  }
  return (
    <>
      <Part title={say.statement}>
        {one.statements.map((each) => (
          <p key={each.digest} class="step-words">
            {words.replay.typed(each.words)}
          </p>
        ))}
        {isOpen && mayCase(desk.house, 'attachStatement') && (
          <form class="stack" onSubmit={(event) => (event.preventDefault(), void attach())}>
            <Field label={say.statement} hint={say.statementHelp} long value={statement} onInput={writeStatement} maxLength={4000} />
            <Button type="submit">{say.attach}</Button>
          </form>
        )}
      </Part>
      <Part title={say.account}>
        {one.accounts.map((each) => (
          <p key={each.digest} class="step-words">
            {staff(desk, each.personId)}: {words.replay.typed(each.words)}
          </p>
        ))}
        {isOpen && mayCase(desk.house, 'attachAccount') && (
          <form class="stack" onSubmit={(event) => (event.preventDefault(), void attachAccount())}>
            <Choice
              label={say.accountOf}
              value={personId}
              blank={say.chooseStaff}
              choices={[...desk.house.staff.value].map(([value, says]) => ({ value, says }))}
              onChange={who}
            />
            <Field label={say.account} long value={account} onInput={writeAccount} maxLength={4000} />
            <Button type="submit">{say.attachAccount}</Button>
          </form>
        )}
      </Part>
    </>
  )
}
