import { useEffect, useState } from 'preact/hooks'
import type { BoardStudent, BoardView } from '@musterbook/day/views/board'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { Progress } from '../parts/progress/progress.tsx'
import { showWhat, tell } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { SecondPerson } from './second-person.tsx'
import { whoIs } from './who.ts'

interface Props {
  house: House
  board: BoardView
  inbox: InboxView
  onOpen: (studentId: string) => void
  onInbox: () => void
}

/** The end of the day: what is in the way, who is signed off, the seal; afterwards its digest and the way back in. */
export function SealPart(props: Props) {
  const { house, board } = props
  const day = house.day.value
  const { seal: say } = words.supervisor
  const classes = [...new Set(board.students.map(({ classId }) => classId))]
  return (
    <div class="stack">
      <h2>{say.title}</h2>
      {day?.state === 'open' ? (
        <>
          <InTheWay {...props} />
          <SignOff {...props} />
          {may(house, 'sealDay') && <Seal {...props} />}
        </>
      ) : (
        <Sealed house={house} />
      )}
      <div class="row">
        <a class="inbox-link" href={`/sheets/days/${day?.dayId}/day`}>
          {say.printDay}
        </a>
        {classes.map((classId) => (
          <a key={classId} class="inbox-link" href={`/sheets/days/${day?.dayId}/classes/${classId}`}>
            {say.printClass} {classes.length > 1 ? classId : ''}
          </a>
        ))}
      </div>
    </div>
  )
}

function InTheWay({ house, board, inbox, onOpen, onInbox }: Props) {
  const { seal: say } = words.supervisor
  const loose = new Set(inbox.inTheWayOfSeal.find(({ kind }) => kind === 'notFinished')?.bibs)
  const students = board.students.filter(({ bib, studentId }) => loose.has(bib ?? studentId))
  return (
    <section class="stack" aria-label={say.inTheWay}>
      <h3>{say.inTheWay}</h3>
      {inbox.inTheWayOfSeal.length === 0 && <Mark state="met" says={say.nothing} />}
      <ul class="stack">
        {inbox.inTheWayOfSeal.map(({ kind, count }) => (
          <li key={kind} class="office-line">
            <Mark state="notMet" says={say.kinds[kind](count)} />
            {kind === 'reviews' && (
              <Button size="small" onPress={onInbox}>
                {say.goInbox}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {students.length > 0 && (
        <ul class="seal-loose">
          {students.map((student) => (
            <li key={student.studentId} class="sheet office-line">
              <span>
                {whoIs(house, student.studentId, student.bib)}: <strong>{whyLoose(student)}</strong>
              </span>
              <span class="row">
                {student.presence === 'expected' && may(house, 'markAbsent') && (
                  <Button
                    size="small"
                    label={`${say.markAbsent}: ${whoIs(house, student.studentId, student.bib)}`}
                    onPress={() =>
                      void tell(house, say.absentTold(whoIs(house, student.studentId, student.bib)), 'markAbsent', {
                        studentId: student.studentId as StudentId,
                      })
                    }
                  >
                    {say.markAbsent}
                  </Button>
                )}
                <Button
                  size="small"
                  label={`${words.supervisor.tabs.record}: ${whoIs(house, student.studentId, student.bib)}`}
                  onPress={() => onOpen(student.studentId)}
                >
                  {words.supervisor.tabs.record}
                </Button>
              </span>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

const whyLoose = (student: BoardStudent): string => {
  const { seal: say } = words.supervisor
  if (student.presence === 'expected') return say.expected
  if (student.at?.doing === 'underWay') return say.underWay
  return student.coolDown === 'due' ? say.coolDown : say.referred
}

/** Those who have done everything, in one go; anybody else by their own record. */
function SignOff({ house, board }: Props) {
  const [progress, setProgress] = useState<{ done: number; of: number } | undefined>(undefined)
  const [asking, ask] = useState(false)
  const { seal: say } = words.supervisor
  const here = board.students.filter(({ presence }) => presence === 'present')
  const ready = here.filter(
    (student) => !student.at && student.coolDown !== 'due' && !student.stopped && student.stations.every(({ state }) => state === 'done'),
  )
  const idle = here.filter((student) => !student.at && student.coolDown !== 'due')
  const signOff = (students: readonly BoardStudent[]) => {
    if (progress) return
    const all = students.reduce<ReturnType<House['tell']>>(
      async (before, { studentId }, at) => {
        const outcome = await before
        if (outcome.said !== 'recorded') return outcome
        setProgress({ done: at, of: students.length })
        return house.tell('signOffStudent', { studentId: studentId as StudentId })
      },
      Promise.resolve({ said: 'recorded', body: undefined }),
    )
    void showWhat(house, say.signedOff(students.length), all).then(() => setProgress(undefined))
  }
  return (
    <section class="stack" aria-label={say.notSignedOff(here.length)}>
      <h3>{say.notSignedOff(here.length)}</h3>
      {progress && <Progress label={say.progress} done={progress.done} of={progress.of} />}
      {ready.length === 0 && here.length > 0 && <p>{say.nobodyReady}</p>}
      {may(house, 'signOffStudent') && (
        <div class="row">
          {ready.length > 0 && (
            <Button kind="primary" onPress={() => signOff(ready)}>
              {say.signOffReady(ready.length)}
            </Button>
          )}
          {idle.length > ready.length && <Button onPress={() => ask(true)}>{say.signOffAll(idle.length)}</Button>}
        </div>
      )}
      <ConfirmDialog
        title={say.signOffAll(idle.length)}
        open={asking}
        confirm={say.signOffAll(idle.length)}
        onClose={() => ask(false)}
        onConfirm={() => {
          ask(false)
          signOff(idle)
        }}
      >
        <p>{say.signOffSure}</p>
      </ConfirmDialog>
    </section>
  )
}

function Seal({ house, board, inbox }: Props) {
  const [reason, write] = useState('')
  const [asking, ask] = useState(false)
  const { seal: say } = words.supervisor
  const isNext = board.students.every(({ presence }) => presence !== 'present')
  const reviews = inbox.inTheWayOfSeal.some(({ kind }) => kind === 'reviews')
  return (
    <section class="stack" aria-label={say.seal}>
      {reviews && <Field label={say.acceptReason} hint={say.acceptHint} long value={reason} onInput={write} maxLength={2000} />}
      <div class="row">
        <Button kind={isNext ? 'primary' : 'normal'} size="key" onPress={() => ask(true)}>
          {say.seal}
        </Button>
      </div>
      <ConfirmDialog
        title={say.seal}
        open={asking}
        confirm={say.seal}
        onClose={() => ask(false)}
        onConfirm={() => {
          ask(false)
          void tell(house, say.sealed, 'sealDay', { acceptOpenReviews: reason.trim() || null })
        }}
      >
        <p>{say.sealSure}</p>
      </ConfirmDialog>
    </section>
  )
}

function Sealed({ house }: { house: House }) {
  const [hash, setHash] = useState('')
  const [reason, write] = useState('')
  const [second, setSecond] = useState({ personId: '', pin: '' })
  const [wrong, setWrong] = useState('')
  const { seal: say } = words.supervisor
  const day = house.day.value
  const sealedVersion = day?.sealedVersion ?? 0
  useEffect(() => {
    if (!day) return
    void house.api.get<{ head: { hash: string } }>(`/api/days/${day.dayId}/entries?after=${sealedVersion}`).then((heard) => {
      if (heard.said === 'recorded') setHash(heard.body.head.hash)
    })
  }, [house, day?.dayId, sealedVersion])
  const reopen = async () => {
    setWrong(reason.trim() === '' || !second.personId ? words.office.setUp.missing : '')
    if (reason.trim() === '' || !second.personId) return
    await tell(house, say.reopenTold, 'reopen', { reason: reason.trim() }, second)
    setSecond({ ...second, pin: '' })
  }
  return (
    <>
      <section class="sheet stack" aria-label={say.digest}>
        <Mark state="done" large says={day?.state === 'reopened' ? say.reopened : say.sealed} />
        <p>{say.sealedAt(wallClock(day?.sealedAt ?? 0, day?.timeZone ?? 'UTC', true), sealedVersion)}</p>
        <h3>{say.digest}</h3>
        <p class="code office-digest">{hash}</p>
        <p>{say.digestHelp}</p>
      </section>
      {day?.state === 'sealed' && may(house, 'reopen') && (
        <form
          class="sheet stack"
          onSubmit={(event) => {
            event.preventDefault()
            void reopen()
          }}
        >
          <h3>{say.reopen}</h3>
          <p>{say.reopenHelp}</p>
          <Field label={say.reopenReason} long value={reason} onInput={write} maxLength={2000} error={wrong || undefined} />
          <SecondPerson house={house} value={second} onChange={setSecond} />
          <div class="row">
            <Button type="submit">{say.reopen}</Button>
          </div>
        </form>
      )}
    </>
  )
}
