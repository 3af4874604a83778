import type { House } from '../house/house.ts'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import type { ListName, OnFloor } from './lists.ts'

/** Where somebody stands in their day, in a word or two: what this list is about first. */
export function Marks({ house, student, list }: { house: House; student: OnFloor; list?: ListName }) {
  const name = (stationId: string) => house.day.value?.stations.find((one) => one.stationId === stationId)?.name ?? stationId
  const isHere = student.presence === 'present'
  return (
    <span class="floor-marks">
      {student.stopped && <Mark state="stopped" />}
      {list !== 'queues' && <Mark state={presenceState[student.presence] ?? 'pending'} says={words.floor.presence[student.presence]} />}
      {student.late && <Mark state="limited" says={words.floor.late} />}
      {student.walkIn && <Mark state="review" says={words.floor.walkIn} />}
      {student.retest && <Mark state="review" says={words.floor.retest} />}
      {isHere && student.bib === null && <Mark state="unknown" says={words.floor.noBib} />}
      {isHere && list !== 'queues' && list !== 'leaving' && <Mark state={student.clearance} />}
      {isHere && list === 'queues' && student.warmUp === 'due' && <Mark state="pending" says={words.floor.notWarmedUp} />}
      {student.coolDown === 'due' && <Mark state="notMet" says={words.floor.coolDownDue} />}
      {student.underWay ? (
        <Mark state="underWay" says={words.floor.underWayAt(name(student.underWay))} />
      ) : student.calledTo ? (
        <Mark state="called" says={words.floor.calledTo(name(student.calledTo))} />
      ) : (
        isHere && student.queue.length > 0 && <Mark state="waiting" says={words.floor.waitsAt(student.queue.map(name).join(', '))} />
      )}
      {isHere && list === 'queues' && student.queue.length === 0 && !student.calledTo && !student.underWay && (
        <span>{words.floor.left(student.stations.filter(({ left }) => left).length)}</span>
      )}
    </span>
  )
}

const presenceState: Record<string, State> = {
  expected: 'pending',
  present: 'met',
  absent: 'notToday',
  withdrawn: 'withdrawn',
  complete: 'done',
}
