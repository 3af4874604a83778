import { useState } from 'preact/hooks'
import type { BoardQueue, BoardStudent, BoardView } from '@musterbook/day/views/board'
import { answersTo } from '../house/find.ts'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { useSeen } from '../parts/use-seen.ts'
import { Shape, type State } from '../parts/mark/mark.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { staffName, whoIs } from './who.ts'

type Filter = keyof typeof words.supervisor.board.filters
const filters: Record<Filter, (student: BoardStudent) => boolean> = {
  all: () => true,
  here: ({ presence }) => presence === 'present',
  stopped: ({ stopped }) => stopped,
  waiting: ({ stations }) => stations.some(({ state }) => state === 'waiting' || state === 'called'),
  underWay: ({ at }) => at?.doing === 'underWay',
  done: ({ signedOff }) => signedOff,
  expected: ({ presence }) => presence === 'expected',
}

/** Every student and every station, now. */
export function Board({ house, board, onOpen }: { house: House; board: BoardView; onOpen: (studentId: string) => void }) {
  const [filter, choose] = useState<Filter>('all')
  const [typed, type] = useState('')
  const { board: say } = words.supervisor
  const rows = board.students.filter((student) => filters[filter](student) && answersTo(house, typed, student))
  return (
    <div class="stack">
      <Queues house={house} queues={board.queues} now={house.clock.now.value} />
      <div class="supervisor-filters">
        <Field label={say.find} type="search" value={typed} onInput={type} optional />
        <Choice
          label={say.show}
          value={filter}
          choices={(Object.keys(filters) as Filter[]).map((value) => ({
            value,
            says: `${say.filters[value]} (${board.students.filter(filters[value]).length})`,
          }))}
          onChange={(value) => choose(value as Filter)}
        />
        <p class="quiet">
          {say.summary(board.students.filter(({ signedOff }) => signedOff).length, board.students.length, board.stopped.length)}
        </p>
      </div>
      {rows.length === 0 ? (
        <EmptyState says={say.none} />
      ) : (
        <BoardTable rows={rows} stations={board.queues} name={(student) => whoIs(house, student.studentId, student.bib)} onOpen={onOpen} />
      )}
    </div>
  )
}

/** Where the bottleneck is. */
export function Queues({ house, queues, now }: { house: House; queues: readonly BoardQueue[]; now: number }) {
  const { board: say } = words.supervisor
  const bibs = (places: readonly { bib: string | null }[]) =>
    places.length > 6 ? String(places.length) : places.map(({ bib }) => `#${bib ?? '?'}`).join(', ')
  return (
    <section aria-label={say.queues}>
      <h2 class="spoken">{say.queues}</h2>
      <ul class="supervisor-queues">
        {queues.map((queue) => (
          <li key={queue.stationId} class="supervisor-queue">
            <h3>{queue.name}</h3>
            <p>
              {say.queue(queue.waiting.length, queue.waiting[0] ? shortDuration(now - queue.waiting[0].since) : '')}
              {queue.called.length > 0 && <span>; {say.calledAt(bibs(queue.called))}</span>}
              {queue.underWay.length > 0 && <span>; {say.underWayAt(bibs(queue.underWay))}</span>}
            </p>
            <p class="quiet">
              {queue.zone}, {queue.staff.map((one) => staffName(house, one)).join(', ') || say.noStaff}
            </p>
          </li>
        ))}
      </ul>
    </section>
  )
}

const marks: Record<BoardStudent['stations'][number]['state'], State> = {
  due: 'pending',
  waiting: 'waiting',
  called: 'called',
  underWay: 'underWay',
  tried: 'limited',
  done: 'done',
}

interface TableProps {
  rows: readonly BoardStudent[]
  stations: readonly { stationId: string; name: string }[]
  name: (student: BoardStudent) => string
  onOpen?: (studentId: string) => void
}

/** One line a student: where they are, and what each station says of them. */
export function BoardTable({ rows, stations, name, onOpen }: TableProps) {
  const { board: say } = words.supervisor
  return (
    <div class="table-scroll" role="region" aria-label={say.caption} tabIndex={0}>
      <table class="table board-table">
        <caption class="spoken">{say.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{say.student}</th>
            <th scope="col">{say.where}</th>
            {stations.map(({ stationId, name }) => (
              <th key={stationId} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        {tens(rows).map((some, at) => (
          <Rows key={at} rows={some} stations={stations} name={name} {...(onOpen && { onOpen })} />
        ))}
      </table>
    </div>
  )
}

const tens = <Row,>(rows: readonly Row[]): Row[][] =>
  Array.from({ length: Math.ceil(rows.length / 10) }, (_, at) => rows.slice(at * 10, at * 10 + 10))

/** Ten rows are drawn where they can be seen, and are their names elsewhere: a board of forty changes at every step of a replay. */
function Rows({ rows, stations, name, onOpen }: TableProps) {
  const [body, isSeen] = useSeen<HTMLTableSectionElement>()
  return (
    <tbody ref={body}>
      {isSeen ? (
        rows.map((student) => <Row key={student.studentId} {...{ student, stations, name }} {...(onOpen && { onOpen })} />)
      ) : (
        <tr class="board-unseen">
          <th scope="row" colSpan={stations.length + 2}>
            {rows.map(name).join(', ')}
          </th>
        </tr>
      )}
    </tbody>
  )
}

function Row({ student, stations, name, onOpen }: Omit<TableProps, 'rows'> & { student: BoardStudent }) {
  const { board: say } = words.supervisor
  return (
    <tr>
      <th scope="row">
        {onOpen ? (
          <button
            type="button"
            class="board-name"
            aria-label={`${name(student)}: ${say.open(name(student))}`}
            onClick={() => onOpen(student.studentId)}
          >
            {name(student)}
          </button>
        ) : (
          name(student)
        )}
      </th>
      <td>
        <Where student={student} stations={stations} />
      </td>
      {student.stations.map((station) => (
        <td key={station.stationId}>
          <span class="board-cell" data-state={station.state}>
            <Shape state={station.result === 'underReview' ? 'review' : marks[station.state]} />
            <span>
              {station.says ? <strong class="figures">{station.says}</strong> : say.station[station.state]}
              {(station.placing || say.result[station.result]) && (
                <small>{[station.placing, say.result[station.result]].filter(Boolean).join(', ')}</small>
              )}
            </span>
          </span>
        </td>
      ))}
    </tr>
  )
}

function Where({ student, stations }: { student: BoardStudent; stations: readonly { stationId: string; name: string }[] }) {
  const { board: say } = words.supervisor
  const at = student.at && stations.find(({ stationId }) => stationId === student.at?.stationId)?.name
  const [state, saying]: [State, string] = student.stopped
    ? ['stopped', words.states.stopped]
    : student.at
      ? [student.at.doing === 'underWay' ? 'underWay' : 'called', say.at(say.station[student.at.doing], at ?? student.at.stationId)]
      : student.presence !== 'present'
        ? [
            student.presence === 'complete' ? 'done' : student.presence === 'expected' ? 'pending' : 'withdrawn',
            say.presence[student.presence] ?? student.presence,
          ]
        : student.coolDown === 'due'
          ? ['waiting', say.coolDownDue]
          : student.clearance !== 'cleared' && student.clearance !== 'limited'
            ? [student.clearance === 'pending' ? 'pending' : 'notMet', say.clearance[student.clearance] ?? student.clearance]
            : student.warmUp === 'due'
              ? ['waiting', say.warmUpDue]
              : ['met', say.presence['present'] ?? '']
  return (
    <span class="board-cell" data-state={state}>
      <Shape state={state} />
      <span>
        {saying}
        {student.late && <small>{say.late}</small>}
      </span>
    </span>
  )
}
