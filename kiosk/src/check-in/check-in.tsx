import { useCallback, useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import type { FloorView } from '@musterbook/day/views/board'
import type { LookUpAnswer } from '@musterbook/gateway/routes/people'
import type { HealthQuestions } from '@musterbook/vocabulary/office'
import type { Bib, StudentId } from '@musterbook/vocabulary/ids'
import type { Call } from '../house/call-staff.ts'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { shortDuration } from '../words/figures.ts'
import { speakHome, speakLanguage, spokenLanguage } from '../words/languages.ts'
import { words } from '../words/words.ts'
import { CodeStep } from './code-step.tsx'
import { DoneStep } from './done-step.tsx'
import { Groups } from './groups.tsx'
import { HealthStep } from './health-step.tsx'
import { useIdle } from './idle.ts'
import { Who } from './who.tsx'

type Step = 'code' | 'birth' | 'you' | 'health' | 'bib' | 'done'
const steps: readonly Step[] = ['code', 'birth', 'you', 'health', 'bib', 'done']
/** Whoever asks for more time has ten times as much. */
const patient = 10

/** One student after the other: each begins on an empty page, and nothing of the one before is left. */
export function CheckIn({ house, call }: { house: House; call: Call }) {
  const [student, count] = useState(0)
  const wipe = useCallback(() => {
    void speakHome()
    call.forget()
    count((before) => before + 1)
  }, [call])
  return <OneStudent key={student} house={house} call={call} onWipe={wipe} />
}

function OneStudent({ house, call, onWipe }: { house: House; call: Call; onWipe: () => void }) {
  const day = house.day.value!
  const floor = house.view<FloorView>('floor').view.value
  const [step, go] = useState<Step>('code')
  const [chose, setChose] = useState(false)
  const [code, setCode] = useState('')
  const [found, find] = useState<LookUpAnswer | undefined>(undefined)
  const [questions, ask] = useState<HealthQuestions | null>(null)
  const [bib, setBib] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string | undefined>(undefined)
  const [busy, setBusy] = useState(false)
  const [patience, setPatience] = useState(1)
  const [told, tellThem] = useState<string | undefined>(undefined)
  const begun = step !== 'code'
  const left = useIdle(patience, begun ? onWipe : nothing)
  const heading = useRef<HTMLHeadingElement>(null)
  // Before anything is painted: a scanner does not wait, and its first sign must not be lost.
  useLayoutEffect(() => {
    // The pad of these two listens by itself.
    if (step === 'birth' || step === 'bib') return scrollTo(0, 0)
    if (step === 'code') heading.current?.closest('section')?.querySelector<HTMLElement>('.check-in-code input')?.focus()
    else heading.current?.focus({ preventScroll: true })
    scrollTo(0, 0)
  }, [step])

  const studentId = found?.student.studentId
  const onFloor = floor?.students.find((one) => one.studentId === studentId)
  const next = (to: Step) => {
    setWrong(undefined)
    tellThem(undefined)
    go(to)
  }

  const lookUp = async (birthDate: number) => {
    if (busy) return
    const written = String(birthDate)
    const date = `${written.slice(0, 4)}-${written.slice(4, 6)}-${written.slice(6)}`
    setBusy(true)
    const said = await house.api.post<LookUpAnswer>(`/api/days/${day.dayId}/look-ups`, { code, second: { birthDate: date } })
    const set = said.said === 'recorded' ? await house.api.get<HealthQuestions | null>('/api/medical/questions') : undefined
    setBusy(false)
    if (said.said !== 'recorded') return setWrong(sentenceOf(said))
    ask(set?.said === 'recorded' ? set.body : null)
    find(said.body)
    // The roster knows their language; what somebody chose here by hand stands.
    if (!chose) void speakLanguage(said.body.student.language)
    next('you')
  }
  const itIsMe = async () => {
    if (busy || !studentId) return
    // Here already: what is still missing is asked, and nothing twice.
    if (onFloor?.presence === 'present' && onFloor.bib) return next('done')
    if (onFloor?.presence !== 'present') {
      setBusy(true)
      const said = await house.tell('checkIn', { studentId: studentId as StudentId, secondIdentifier: 'birthDate' })
      setBusy(false)
      if (said.said !== 'recorded') return setWrong(sentenceOf(said))
    }
    next(questions ? 'health' : 'bib')
  }
  const answer = async (answers: Record<string, string>) => {
    if (busy || !questions) return
    setBusy(true)
    const said = await house.api.post('/api/medical/answers', { dayId: day.dayId, studentId, setId: questions.id, answers })
    setBusy(false)
    if (said.said !== 'recorded') return setWrong(said.said === 'noContact' ? words.checkIn.answersNotKept : sentenceOf(said))
    next(onFloor?.bib ? 'done' : 'bib')
  }
  const bind = async (number: number) => {
    if (busy) return
    setBusy(true)
    const said = await house.tell('bindBib', { studentId: studentId as StudentId, bib: String(number) as Bib })
    setBusy(false)
    if (said.said !== 'recorded') return setWrong(sentenceOf(said))
    setBib(String(number))
    next('done')
  }
  const notRight = () => {
    call.call()
    tellThem(words.checkIn.notRightSaid)
  }

  const title = {
    code: words.checkIn.codeTitle,
    birth: words.checkIn.birthTitle,
    you: words.checkIn.youTitle,
    health: words.checkIn.healthTitle,
    bib: words.checkIn.bibTitle,
    done: words.checkIn.doneTitle,
  }[step]
  const called = useCall(call.callId.value, floor)

  return (
    <section class="check-in stack" data-step={step} aria-labelledby="step">
      <div class="check-in-head">
        <h2 id="step" ref={heading} tabIndex={-1}>
          {title}
        </h2>
        <p class="quiet">{words.checkIn.progress(steps.indexOf(step) + 1, steps.length)}</p>
      </div>
      <p role="status" class="check-in-told" data-empty={(told ?? called) === undefined || undefined}>
        {told ?? called}
      </p>

      {step === 'code' && (
        <CodeStep
          onLanguage={(language) => {
            setChose(true)
            void speakLanguage(language)
          }}
          onCode={(said) => {
            setCode(said)
            next('birth')
          }}
        />
      )}
      {step === 'birth' && (
        <NumberPad
          label={words.checkIn.birthDate}
          unit=""
          places={0}
          shape="date"
          save={words.common.continue}
          listening
          onSave={(date) => void lookUp(date)}
          head={
            <>
              <p>{words.checkIn.birthHelp}</p>
              <Wrong says={wrong} />
            </>
          }
        />
      )}
      {step === 'you' && found && (
        <div class="check-in-you">
          <Who student={found.student} />
          {onFloor && <Groups day={day} person={onFloor.normGroup} />}
          <Wrong says={wrong} />
          <div class="row check-in-keys">
            <Button kind="primary" size="key" busy={busy} onPress={() => void itIsMe()}>
              {words.checkIn.thatIsMe}
            </Button>
            <Button size="key" onPress={notRight}>
              {words.checkIn.notRight}
            </Button>
          </div>
        </div>
      )}
      {step === 'health' && questions && (
        <HealthStep
          set={questions}
          language={spokenLanguage.value}
          wrong={wrong}
          busy={busy}
          onAnswers={(answers) => void answer(answers)}
          onSkip={() => next(onFloor?.bib ? 'done' : 'bib')}
        />
      )}
      {step === 'bib' && (
        <NumberPad
          label={words.checkIn.bib}
          unit=""
          places={0}
          most={4}
          save={words.checkIn.bibDone}
          listening
          onSave={(number) => void bind(number)}
          head={
            <>
              <p>{words.checkIn.bibHelp}</p>
              <Wrong says={wrong} />
              <Button onPress={() => next('done')}>{words.checkIn.noBib}</Button>
            </>
          }
        />
      )}
      {step === 'done' && onFloor && <DoneStep day={day} student={onFloor} bib={bib ?? onFloor.bib} onDone={onWipe} />}

      {begun && (
        <div class="check-in-foot">
          {left !== undefined && (
            <div class="check-in-wipes">
              <p role="alert">{words.checkIn.wipesSoon}</p>
              <p aria-hidden="true" class="figures">
                {shortDuration(left * 1000)}
              </p>
              <Button onPress={nothing}>{words.checkIn.stillHere}</Button>
            </div>
          )}
          <Button onPress={onWipe}>{words.checkIn.startAgain}</Button>
          {patience === 1 ? (
            <Button onPress={() => setPatience(patient)}>{words.checkIn.moreTime}</Button>
          ) : (
            <p role="status">{words.checkIn.hasMoreTime}</p>
          )}
        </div>
      )}
    </section>
  )
}

/** What became of the call of this screen: it stands until somebody says that they are going. */
function useCall(callId: string | undefined, floor: FloorView | undefined): string | undefined {
  const [heard, hear] = useState<string | undefined>(undefined)
  const stands = callId !== undefined && (floor?.calls.some((one) => one.callId === callId) ?? false)
  useEffect(() => {
    if (stands) hear(callId)
  }, [stands, callId])
  if (callId === undefined) return undefined
  return heard === callId && !stands ? words.checkIn.answered : words.checkIn.called
}

function Wrong({ says }: { says: string | undefined }) {
  return says ? (
    <p role="alert" class="trouble">
      {says}
    </p>
  ) : null
}

const nothing = () => undefined
