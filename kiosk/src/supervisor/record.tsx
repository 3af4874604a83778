import { useState } from 'preact/hooks'
import type { BoardView } from '@musterbook/day/views/board'
import type { RecordView } from '@musterbook/day/views/record'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { answersTo, byName } from '../house/find.ts'
import { shown, type House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { tell } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { Mass } from './evidence.tsx'
import { NormGroupDialog } from './norm-group.tsx'
import { RecordStation } from './record-station.tsx'
import { RetestDialog } from './retest.tsx'
import { useRecord } from './use-record.ts'
import { stationName, whoIs } from './who.ts'

interface Props {
  house: House
  board: BoardView
  studentId: string | null
  onOpen: (studentId: string | null) => void
}

/** Everything that a day holds of one student. */
export function Record({ house, board, studentId, onOpen }: Props) {
  const record = useRecord(house, studentId)
  if (!studentId) return <Find house={house} board={board} onOpen={onOpen} />
  return record ? (
    <Whole house={house} board={board} record={record} onAnother={() => onOpen(null)} />
  ) : (
    <p role="status">{words.office.loading}</p>
  )
}

function Find({ house, board, onOpen }: Omit<Props, 'studentId'>) {
  const [typed, type] = useState('')
  const { record: say } = words.supervisor
  const found = board.students.filter((student) => answersTo(house, typed, student)).sort(byName(house))
  return (
    <div class="stack">
      <Field label={say.find} type="search" value={typed} onInput={type} optional />
      {found.length === 0 ? (
        <EmptyState says={say.nobody} help={say.chooseHelp} />
      ) : (
        <ul class="record-find">
          {found.map(({ studentId, bib }) => (
            <li key={studentId}>
              <Button wide onPress={() => onOpen(studentId)}>
                {whoIs(house, studentId, bib)}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

function Whole({ house, board, record, onAnother }: { house: House; board: BoardView; record: RecordView; onAnother: () => void }) {
  const [asking, ask] = useState<'retest' | 'norm' | undefined>(undefined)
  const { record: say, board: sayBoard, inbox } = words.supervisor
  const zone = house.day.value?.timeZone ?? 'UTC'
  const who = whoIs(house, record.studentId, record.bib)
  return (
    <div class="stack">
      <h2 class="spoken">{who}</h2>
      <div class="record-head">
        <StudentCard student={shown(house, record.studentId, record.bib)} size="large" />
        <div class="row">
          {record.presence === 'present' && may(house, 'signOffStudent') && (
            <Button onPress={() => void tell(house, say.toldSignOff(who), 'signOffStudent', { studentId: record.studentId as StudentId })}>
              {say.signOff}
            </Button>
          )}
          {may(house, 'grantRetest') && <Button onPress={() => ask('retest')}>{say.grant}</Button>}
          {may(house, 'changeNormGroup') && <Button onPress={() => ask('norm')}>{say.norm}</Button>}
          <a class="inbox-link" href={`/sheets/days/${record.dayId}/students/${record.studentId}`}>
            {say.print}
          </a>
          <Button kind="quiet" onPress={onAnother}>
            {say.another}
          </Button>
        </div>
      </div>
      <ul class="record-facts">
        <li>
          {record.signedOffAt
            ? say.signedOff(wallClock(record.signedOffAt, zone))
            : (sayBoard.presence[record.presence] ?? record.presence)}
          {record.late && `, ${sayBoard.late}`}. {say.coolDown[record.coolDown.state]}.
        </li>
        <li>{say.normGroup(record.normGroup.sex, record.normGroup.ageYears)}</li>
        <li>
          <Mass house={house} mass={record.mass} />
        </li>
        {record.order.length > 0 && <li>{say.order(record.order.map((one) => stationName(house, one)).join(', '))}</li>}
        {record.stopped && (
          <li>
            <Mark state="stopped" says={say.stopped} />
          </li>
        )}
      </ul>
      {record.stations.map((station) => (
        <RecordStation key={station.stationId} house={house} board={board} record={record} station={station} />
      ))}
      <div class="supervisor-pair">
        <section class="stack">
          <h3>{say.entitlements}</h3>
          {record.entitlements.length === 0 && <p>{say.noEntitlements}</p>}
          <ul class="record-facts">
            {record.entitlements.map((one) => (
              <li key={one.entitlementId}>
                {say.entitlement(
                  one.stationIds.map((stationId) => stationName(house, stationId)).join(', '),
                  one.until,
                  say.entitlementWhy[one.because] ?? one.because,
                )}
              </li>
            ))}
          </ul>
        </section>
        <section class="stack">
          <h3>{say.reviews}</h3>
          {record.reviews.length === 0 && <p>{say.noReviews}</p>}
          <ul class="record-facts">
            {record.reviews.map((one) => (
              <li key={one.reviewId}>
                {wallClock(one.at, zone)} {inbox.because[one.because] ?? one.because}:{' '}
                <strong>{one.ruling ? (inbox.rulings[one.ruling as keyof typeof inbox.rulings] ?? one.ruling) : say.reviewOpen}</strong>
              </li>
            ))}
          </ul>
        </section>
      </div>
      {asking === 'retest' && <RetestDialog house={house} record={record} onClose={() => ask(undefined)} />}
      {asking === 'norm' && <NormGroupDialog house={house} record={record} onClose={() => ask(undefined)} />}
    </div>
  )
}
