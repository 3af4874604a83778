import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { StudentFile } from '@musterbook/gateway/student-file'
import type { CaseBrief, CaseKind } from '@musterbook/vocabulary/case'
import type { RecordsPolicy } from '@musterbook/vocabulary/records'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import type { Outcome } from '../live/api.ts'
import { useFetched } from '../office/fetched.ts'
import { siteToday } from '../office/today.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { answerBy } from '../replay/answer-by.ts'
import { mayCase, tellCase } from '../replay/case-acts.ts'
import { words } from '../words/words.ts'

interface Props {
  house: House
  file: StudentFile
  onTold: () => void
}

/** What was asked about this record: to see it, to put it right, or a value disputed; with the dates by which it is answered. */
export function Requests({ house, file, onTold }: Props) {
  const [asking, ask] = useState(false)
  const [acting, act] = useState<{ one: CaseBrief; on: 'statement' | 'answer' } | undefined>(undefined)
  const say = words.records
  const { kinds, states } = words.replay.cases
  const today = siteToday(house)
  return (
    <section class="stack">
      <h3>{say.requests}</h3>
      {file.cases.length === 0 && <p>{say.noRequests}</p>}
      <ul class="office-list">
        {file.cases.map((one) => {
          const isLate = one.state !== 'closed' && one.answerBy < today
          return (
            <li key={one.caseId} class="stack">
              <strong>{kinds[one.kind]}</strong>
              <span>{words.replay.cases.dates(one.receivedOn, one.answerBy)}</span>
              <Mark
                state={one.state === 'closed' ? 'done' : isLate ? 'notMet' : 'waiting'}
                says={isLate ? `${states[one.state]}, ${say.late}` : states[one.state]}
              />
              <div class="row">
                <a class="inbox-link" href={`/replay?day=${one.dayId}#part=cases&caseId=${one.caseId}`}>
                  {say.openCase}
                </a>
                {one.state !== 'closed' && mayCase(house, 'attachStatement') && (
                  <Button size="small" onPress={() => act({ one, on: 'statement' })}>
                    {say.statement}
                  </Button>
                )}
                {one.state !== 'closed' && mayCase(house, 'sendLetter') && (
                  <Button size="small" onPress={() => act({ one, on: 'answer' })}>
                    {say.answer}
                  </Button>
                )}
              </div>
            </li>
          )
        })}
      </ul>
      {file.who && file.days.length > 0 && mayCase(house, 'openCase') && (
        <div class="row">
          <Button onPress={() => ask(true)}>{say.newRequest}</Button>
        </div>
      )}
      {asking && (
        <NewRequest
          house={house}
          file={file}
          onClose={() => ask(false)}
          onTold={() => {
            ask(false)
            onTold()
          }}
        />
      )}
      {acting?.on === 'statement' && <Statement house={house} one={acting.one} onClose={() => act(undefined)} />}
      {acting?.on === 'answer' && (
        <Answer
          house={house}
          one={acting.one}
          onClose={() => {
            act(undefined)
            onTold()
          }}
        />
      )}
    </section>
  )
}

function NewRequest({ house, file, onTold, onClose }: Props & { onClose: () => void }) {
  const policy = useFetched<RecordsPolicy | null>(house, '/api/records/policy')
  const [kind, choose] = useState<CaseKind>('inspect')
  const [dayId, about] = useState(file.days.at(-1)?.day.dayId ?? '')
  const [receivedOn, received] = useState(siteToday(house))
  const [typed, type] = useState('')
  const [question, write] = useState('')
  const say = words.records
  const { cases } = words.replay
  const days = policy.value?.answerDays[kind]
  // What the rules give, until a person puts another date.
  const until = typed || answerBy(receivedOn, days)
  const told = () =>
    tellCase(house, say.recorded, 'openCase', {
      dayId,
      studentId: file.studentId,
      stationId: null,
      kind,
      question,
      receivedOn,
      answerBy: until,
    })
  return (
    <Writing title={say.newRequest} save={say.record} told={told} onRecorded={onTold} onClose={onClose}>
      <div class="office-form records-request">
        <Choice
          label={say.requestKind}
          value={kind}
          choices={(['inspect', 'amend', 'dispute'] as const).map((value) => ({ value, says: cases.kinds[value] }))}
          onChange={(value) => choose(value as CaseKind)}
        />
        <Choice
          label={say.aboutDay}
          value={dayId}
          choices={file.days.map(({ day }) => ({ value: day.dayId, says: say.day(day.title, day.date) }))}
          onChange={about}
        />
        <Field label={cases.receivedOn} type="date" value={receivedOn} onInput={received} />
        <Field
          label={cases.answerBy}
          hint={days === undefined ? say.noPolicy : say.byPolicy(days, policy.value?.id ?? '')}
          type="date"
          value={until}
          onInput={type}
        />
        <Field label={cases.question} long value={question} onInput={write} maxLength={4000} />
      </div>
    </Writing>
  )
}

function Statement({ house, one, onClose }: { house: House; one: CaseBrief; onClose: () => void }) {
  const [said, write] = useState('')
  const { cases } = words.replay
  const told = () => tellCase(house, cases.attached, 'attachStatement', { caseId: one.caseId, words: said })
  return (
    <Writing title={words.records.statement} save={cases.attach} told={told} onRecorded={onClose} onClose={onClose}>
      <Field label={cases.statement} hint={cases.statementHelp} long value={said} onInput={write} maxLength={4000} />
    </Writing>
  )
}

function Answer({ house, one, onClose }: { house: House; one: CaseBrief; onClose: () => void }) {
  const [sentOn, on] = useState(siteToday(house))
  const [sentBy, by] = useState<keyof typeof words.records.sentBys>('hand')
  const say = words.records
  const told = () => tellCase(house, say.answer, 'sendLetter', { caseId: one.caseId, sentOn, sentBy })
  return (
    <Writing title={say.answer} save={say.record} told={told} onRecorded={onClose} onClose={onClose}>
      <div class="office-form">
        <Field label={say.answeredOn} type="date" value={sentOn} onInput={on} />
        <Choice
          label={say.sentBy}
          value={sentBy}
          choices={Object.entries(say.sentBys).map(([value, says]) => ({ value, says }))}
          onChange={(value) => by(value as typeof sentBy)}
        />
      </div>
    </Writing>
  )
}

interface WritingProps {
  title: string
  save: string
  told: () => Promise<Outcome>
  onRecorded: () => void
  onClose: () => void
  children: ComponentChildren
}

/** What is written stays here until it is in the record: a no, or no answer, says so beside it. */
function Writing({ title, save, told, onRecorded, onClose, children }: WritingProps) {
  const [no, say] = useState('')
  const send = async () => {
    say('')
    const outcome = await told()
    if (outcome.said === 'recorded') onRecorded()
    else say(sentenceOf(outcome) ?? '')
  }
  const foot = (
    <Button kind="primary" onPress={() => void send()}>
      {save}
    </Button>
  )
  return (
    <Dialog title={title} open onClose={onClose} foot={foot}>
      {no && (
        <p class="office-missing" role="alert">
          <strong>{no}</strong>
        </p>
      )}
      {children}
    </Dialog>
  )
}
