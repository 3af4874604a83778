import type { DayView } from '@musterbook/day/views'
import type { FloorView } from '@musterbook/day/views/board'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'

type OnFloor = FloorView['students'][number]

interface Props {
  day: DayView
  student: OnFloor
  /** The one that was given a moment ago: the view may not have heard of it yet. */
  bib: string | null
  onDone: () => void
}

/** What comes next, large; and for who came late, what is still open. */
export function DoneStep({ day, student, bib, onDone }: Props) {
  const open = student.stations
    .filter(({ left }) => left)
    .map(({ stationId }) => day.stations.find((one) => one.stationId === stationId)?.name)
  return (
    <>
      {bib ? (
        <p class="check-in-bib">
          <span>{words.checkIn.yourBib}</span>
          <strong class="figures">{bib}</strong>
        </p>
      ) : (
        <p role="alert" class="trouble">
          {words.checkIn.askForBib}
        </p>
      )}
      <section class="stack" aria-labelledby="next">
        <h3 id="next">{words.checkIn.next}</h3>
        <p class="check-in-next">{next(student)}</p>
      </section>
      {student.late && (
        <section class="stack" aria-labelledby="still-open">
          <p>{words.checkIn.late}</p>
          <h3 id="still-open">{words.checkIn.stillOpen}</h3>
          <ul class="check-in-open">
            {open.map((name) => (
              <li key={name}>{name}</li>
            ))}
          </ul>
          {student.warmUp === 'due' && <p>{words.checkIn.warmUpFirst}</p>}
        </section>
      )}
      <p class="caution">{words.checkIn.stopAnyTime}</p>
      <div class="row">
        <Button kind="primary" size="key" onPress={onDone}>
          {words.checkIn.done}
        </Button>
      </div>
    </>
  )
}

function next({ clearance, mass, warmUp }: OnFloor): string {
  if (clearance !== 'cleared' && clearance !== 'limited') return words.checkIn.nextMedical
  if (mass === 'missing') return words.checkIn.nextScale
  return warmUp === 'due' ? words.checkIn.nextWarmUp : words.checkIn.nextQueue
}
