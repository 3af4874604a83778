import { useState } from 'preact/hooks'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { mayCase, tellCase } from './case-acts.ts'
import { Part, type CasePart } from './case-part.tsx'

type SentBy = keyof typeof words.replay.cases.sentBys

/** The letter, the end of the case, and how long its papers are kept. */
export function CaseEnd({ desk, one, onTold }: CasePart) {
  const [sentOn, on] = useState(new Date(desk.house.clock.siteNow()).toISOString().slice(0, 10))
  const [sentBy, by] = useState<SentBy>('hand')
  const [keepUntil, until] = useState(one.keepUntil ?? '')
  const [deletionHeld, hold] = useState(one.deletionHeld)
  const [because, write] = useState('')
  const { cases: say } = words.replay
  const { caseId } = one
  const tell = async (what: string, act: 'sendLetter' | 'closeCase' | 'keepCase', body: object) => {
    const said = await tellCase(desk.house, what, act, { caseId, ...body })
    if (said.said === 'recorded') onTold()
  }
  const isOpen = one.closedAt === null
  return (
    <>
      <Part title={say.letter}>
        <p class="screen-only">
          <a class="inbox-link" href={`/sheets/cases/${caseId}/letter`}>
            {say.printLetter}
          </a>
        </p>
        {one.letters.map((letter) => (
          <p key={letter.at}>{say.letterSent(letter.sentOn, say.sentBys[letter.sentBy])}</p>
        ))}
        {isOpen && mayCase(desk.house, 'sendLetter') && (
          <form class="stack" onSubmit={(event) => (event.preventDefault(), void tell(say.sent, 'sendLetter', { sentOn, sentBy }))}>
            <div class="supervisor-pair">
              <Field label={say.sentOn} type="date" value={sentOn} onInput={on} />
              <Choice
                label={say.sentBy}
                value={sentBy}
                choices={(Object.keys(say.sentBys) as SentBy[]).map((value) => ({ value, says: say.sentBys[value] }))}
                onChange={(value) => by(value as SentBy)}
              />
            </div>
            <Button type="submit">{say.send}</Button>
          </form>
        )}
        {isOpen && one.letters.length > 0 && mayCase(desk.house, 'closeCase') && (
          <div class="row">
            <Button onPress={() => void tell(say.closed, 'closeCase', {})}>{say.close}</Button>
          </div>
        )}
      </Part>
      {mayCase(desk.house, 'keepCase') && (
        <Part title={say.keep}>
          <form
            class="stack"
            onSubmit={(event) => (event.preventDefault(), void tell(say.keptSaid, 'keepCase', { keepUntil, deletionHeld, because }))}
          >
            <Field label={say.keepUntil} type="date" value={keepUntil} onInput={until} />
            <Tick says={say.deletionHeld} checked={deletionHeld} onChange={hold} />
            <Field label={say.because} value={because} onInput={write} />
            <Button type="submit">{say.keepIt}</Button>
          </form>
        </Part>
      )}
    </>
  )
}
