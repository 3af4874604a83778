import type { InboxItem } from '@musterbook/day/views/inbox'
import type { House } from '../house/house.ts'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { AttemptFacts } from './attempt-facts.tsx'
import { useRecord } from './use-record.ts'
import { valueSays as value } from './value-says.ts'

/** What is recorded of the try that waits: the facts, before anybody decides what they mean. */
export function Evidence({ house, item }: { house: House; item: InboxItem }) {
  const record = useRecord(house, item.studentId)
  const { inbox: say } = words.supervisor
  if (!record) return <p role="status">{words.office.loading}</p>
  const attempts = record.stations.flatMap((station) =>
    station.attempts
      .filter((attempt) => (item.attemptId ? attempt.attemptId === item.attemptId : station.stationId === item.stationId))
      .map((attempt) => ({ station, attempt })),
  )
  return (
    <section class="stack" aria-label={say.evidence}>
      <h4>{say.evidence}</h4>
      {record.mass && item.equipmentId && <Mass house={house} mass={record.mass} />}
      {attempts.length === 0 && <p>{say.noEvidence}</p>}
      {attempts.map(({ station, attempt }) => (
        <div key={attempt.attemptId}>
          <h5>{station.name}</h5>
          <AttemptFacts house={house} attempt={attempt} />
        </div>
      ))}
    </section>
  )
}

export function Mass({ house, mass }: { house: House; mass: { amount: number; unit: string; scaleId: string; at: number } | null }) {
  const { record: say } = words.supervisor
  return <p>{mass ? say.mass(value(mass), mass.scaleId, wallClock(mass.at, house.day.value?.timeZone ?? 'UTC')) : say.noMass}</p>
}
