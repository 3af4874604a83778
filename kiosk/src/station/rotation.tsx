import type { StationStudent, StationView } from '@musterbook/day/views/station'
import { rotation, type Lifter } from '@musterbook/stations/rotation'
import type { House } from '../house/house.ts'
import { shortDuration } from '../words/figures.ts'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'

/** The bench goes on while somebody rests: who lifts next at which load, and how long until then. Staff call whom they like. */
export function Rotation({ house, view }: { house: House; view: StationView }) {
  const { protocol } = view
  if (protocol.kind !== 'loaded') return null
  const now = house.clock.now.value
  const here = view.students.filter(liftsHere(now))
  const turns = rotation(here.map(lifterOf(now)), onTheBar(view), now).slice(0, 4)
  if (turns.length < 2) return null
  return (
    <section class="rotation" aria-labelledby="rotation">
      <h3 id="rotation">{words.station.rotation}</h3>
      <ol>
        {turns.map(({ studentId, load, startsAt }) => (
          <li key={studentId} class="figures">
            <strong>{words.common.bib(here.find((one) => one.studentId === studentId)?.bib ?? '?')}</strong>
            <span>{load === null ? words.common.unknown : inFigures(load, protocol.unit)}</span>
            {startsAt > now && <span>{words.station.rotationIn(shortDuration(startsAt - now))}</span>}
          </li>
        ))}
      </ol>
    </section>
  )
}

/** Rested for longer than this and in no line, somebody has gone on to another station: ours, an assumption for this order alone. */
const goneAfterMs = 5 * 60_000

/** In the line, or between two lifts of theirs. */
const liftsHere =
  (now: number) =>
  ({ place, ready, restOverAt, triesUsed }: StationStudent): boolean => {
    if (place === 'waiting' || place === 'called') return ready || restOverAt !== null
    return place === 'elsewhere' && triesUsed > 0 && restOverAt !== null && now < restOverAt + goneAfterMs
  }

const lifterOf =
  (now: number) =>
  ({ studentId, restOverAt, nextLoad, tries, triesUsed }: StationStudent): Lifter => ({
    studentId,
    restOverAt: restOverAt !== null && restOverAt > now ? restOverAt : null,
    load: nextLoad && 'propose' in nextLoad ? nextLoad.propose : null,
    // The best is found: nothing more is due, whatever tries are left.
    effortsLeft: nextLoad && 'found' in nextLoad ? 0 : tries - triesUsed,
  })

/** What was lifted last stands on the bar still. */
function onTheBar({ students }: StationView): number | null {
  const lifts = students.flatMap(({ attempts }) =>
    attempts.flatMap(({ load, startedAt }) => (load && startedAt !== null ? [{ load, startedAt }] : [])),
  )
  return lifts.sort((one, other) => other.startedAt - one.startedAt)[0]?.load.amount ?? null
}
