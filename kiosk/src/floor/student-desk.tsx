import { useEffect, useRef, useState } from 'preact/hooks'
import type { Bib, ReferralId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import type { OnFloor } from './lists.ts'
import { Marks } from './marks.tsx'

/** One student and what may be done for them here by whoever is signed on. */
export function StudentDesk({ house, student, onClose }: { house: House; student: OnFloor; onClose: () => void }) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus()
    heading.current?.scrollIntoView({ block: 'nearest' })
  }, [])
  const card = shown(house, student.studentId, student.bib)
  const who = student.bib ? `${words.common.bib(student.bib)} ${card.name}` : card.name
  const studentId = student.studentId as StudentId
  const isHere = student.presence === 'present'

  return (
    <section class="sheet stack" aria-labelledby="desk">
      <h2 id="desk" ref={heading} tabIndex={-1} class="floor-who">
        <span class="spoken">{who}</span>
        <StudentCard size="large" student={card} />
      </h2>
      <Marks house={house} student={student} />
      {student.stopped && <p class="trouble">{words.floor.stoppedHelp}</p>}
      {may(house, 'refer') && student.presence !== 'expected' && student.presence !== 'absent' && (
        <div class="stack">
          <Button kind="stop" size="key" wide detail={words.floor.referHelp} onPress={() => void refer(house, studentId, who)}>
            {words.floor.refer}
          </Button>
        </div>
      )}
      {(student.presence === 'expected' || student.presence === 'absent') && may(house, 'checkIn') && (
        <CheckIn house={house} studentId={studentId} who={who} />
      )}
      {isHere && may(house, 'bindBib') && <BindBib house={house} student={student} name={card.name} />}
      {isHere && <Stations house={house} student={student} who={who} />}
      <Leaving house={house} student={student} who={who} />
      <div class="row">
        <Button onPress={onClose}>{words.common.close}</Button>
      </div>
    </section>
  )
}

const refer = (house: House, studentId: StudentId, who: string) =>
  tell(house, words.floor.referSaid(who), 'refer', { referralId: newId('referral') as ReferralId, studentId, to: 'screener' })

function CheckIn({ house, studentId, who }: { house: House; studentId: StudentId; who: string }) {
  const checkIn = (secondIdentifier: 'knownToGreeter' | 'photo') =>
    void tell(house, words.floor.checkedIn(who), 'checkIn', { studentId, secondIdentifier })
  return (
    <section class="stack" aria-labelledby="check-in">
      <h3 id="check-in">{words.floor.checkInTitle}</h3>
      <p>{words.floor.checkInHelp}</p>
      <div class="row">
        <Button kind="primary" size="key" onPress={() => checkIn('knownToGreeter')}>
          {words.floor.knownToMe}
        </Button>
        <Button size="key" onPress={() => checkIn('photo')}>
          {words.floor.byPhoto}
        </Button>
        {may(house, 'markAbsent') && (
          <Button size="key" onPress={() => void tell(house, words.floor.absentSaid(who), 'markAbsent', { studentId })}>
            {words.floor.absent}
          </Button>
        )}
      </div>
    </section>
  )
}

function BindBib({ house, student, name }: { house: House; student: OnFloor; name: string }) {
  const [bib, type] = useState('')
  const bind = async () => {
    if (!/^\d{1,4}$/.test(bib)) return
    const said = await tell(house, words.floor.bibBound(bib, name), 'bindBib', {
      studentId: student.studentId as StudentId,
      bib: bib as Bib,
    })
    if (stands(said)) type('')
  }
  return (
    <form
      class="floor-bib"
      onSubmit={(event) => {
        event.preventDefault()
        void bind()
      }}
    >
      <Field
        label={student.bib ? words.floor.newBib : words.floor.bibTitle}
        inputMode="numeric"
        value={bib}
        onInput={(typed) => type(typed.replace(/\D/g, '').slice(0, 4))}
        autoComplete="off"
      />
      <Button type="submit" kind={student.bib ? 'normal' : 'primary'}>
        {words.floor.bindBib}
      </Button>
    </form>
  )
}

/** What is still due, and its queues. Nothing is left out of this by lateness: the supervisor decides. */
function Stations({ house, student, who }: { house: House; student: OnFloor; who: string }) {
  const left = student.stations.filter((station) => station.left)
  return (
    <section class="stack" aria-labelledby="still">
      <h3 id="still">{words.floor.queueTitle}</h3>
      {student.warmUp === 'due' && <p>{words.floor.notWarmedUp}</p>}
      {left.length === 0 ? (
        <p>{words.floor.nothingLeft}</p>
      ) : (
        <div class="row">
          {left.map(({ stationId }) => {
            const name = house.day.value?.stations.find((one) => one.stationId === stationId)?.name ?? stationId
            const waits = student.queue.includes(stationId)
            const place = { studentId: student.studentId as StudentId, stationId: stationId as StationId }
            return waits
              ? may(house, 'leaveQueue') && (
                  <Button key={stationId} pressed onPress={() => void tell(house, words.floor.leaveSaid(who, name), 'leaveQueue', place)}>
                    {words.floor.leave(name)}
                  </Button>
                )
              : may(house, 'joinQueue') && (
                  <Button
                    key={stationId}
                    pressed={false}
                    onPress={() => void tell(house, words.floor.joinSaid(who, name), 'joinQueue', place)}
                  >
                    {words.floor.join(name)}
                  </Button>
                )
          })}
        </div>
      )}
    </section>
  )
}

function Leaving({ house, student, who }: { house: House; student: OnFloor; who: string }) {
  const [asking, ask] = useState(false)
  const studentId = student.studentId as StudentId
  const isHere = student.presence === 'present'
  // The stop comes first: nobody walks on while the rest is being told.
  const coolDownAndRefer = async () => {
    await refer(house, studentId, who)
    await tell(house, words.floor.coolDownSaid(who), 'confirmCoolDown', { studentId, lookOver: 'referred' })
  }
  return (
    <div class="row">
      {isHere && student.warmUp === 'due' && may(house, 'confirmWarmUp') && (
        <Button onPress={() => void tell(house, words.floor.warmUpSaid(1), 'confirmWarmUp', { studentIds: [studentId] })}>
          {words.floor.confirmWarmUp(1)}
        </Button>
      )}
      {student.coolDown === 'due' && may(house, 'confirmCoolDown') && (
        <>
          <Button
            kind="primary"
            onPress={() => void tell(house, words.floor.coolDownSaid(who), 'confirmCoolDown', { studentId, lookOver: 'nothingSeen' })}
          >
            {words.floor.coolDown}
          </Button>
          <Button onPress={() => void coolDownAndRefer()}>{words.floor.coolDownReferred}</Button>
        </>
      )}
      {isHere && may(house, 'signOffStudent') && (
        <Button onPress={() => void tell(house, words.floor.signOffSaid(who), 'signOffStudent', { studentId })}>
          {words.floor.signOff}
        </Button>
      )}
      {student.presence !== 'withdrawn' && student.presence !== 'complete' && may(house, 'withdraw') && (
        <Button onPress={() => ask(true)}>{words.floor.withdraw}</Button>
      )}
      <ConfirmDialog
        title={words.floor.withdrawTitle(who)}
        open={asking}
        confirm={words.floor.withdraw}
        onConfirm={() => {
          ask(false)
          void tell(house, words.floor.withdrawSaid(who), 'withdraw', { studentId })
        }}
        onClose={() => ask(false)}
      >
        <p>{words.floor.withdrawHelp}</p>
      </ConfirmDialog>
    </div>
  )
}
