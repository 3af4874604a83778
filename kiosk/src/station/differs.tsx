import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { ReadingUnit } from '@musterbook/stations/units'
import { Button } from '../parts/button/button.tsx'
import { Shape } from '../parts/mark/mark.tsx'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { StationActs } from './acts.ts'

/** Two readings of one try that differ: both are shown, the protocol's rule is said, and somebody says that they have seen it. */
export function Differs({ view, student, acts }: { view: StationView; student: StationStudent; acts: StationActs }) {
  const attempt = student.attempts.find((one) => one.attemptId === student.differs)
  if (!attempt) return null
  const values = attempt.observations.flatMap(({ value }) => (value ? [inFigures(value.amount, value.unit as ReadingUnit)] : []))
  const { witnessRule } = view.protocol
  return (
    <section class="ask" role="alert">
      <p class="ask-says">
        <Shape state="review" /> {words.station.differs(attempt.number, values.join(words.station.and))}
      </p>
      <p>{words.station.differRule[witnessRule]}</p>
      {witnessRule !== 'personDecides' && (
        <Button kind="primary" onPress={() => void acts.acknowledge(student, attempt.attemptId)}>
          {words.station.acknowledge}
        </Button>
      )}
    </section>
  )
}
