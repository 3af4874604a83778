import type { AttemptView } from '@musterbook/day/views/parts'
import type { House } from '../house/house.ts'
import { EvidencePhoto } from '../parts/evidence-photo/evidence-photo.tsx'
import { raceTime, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { valueSays } from './value-says.ts'
import { deviceName, staffName } from './who.ts'

/** One try as it was recorded: every observation with who and where, then every correction, in order. */
export function AttemptFacts({ house, attempt }: { house: House; attempt: AttemptView }) {
  const { record: say, inbox } = words.supervisor
  const zone = house.day.value?.timeZone ?? 'UTC'
  return (
    <ul class="record-facts">
      <li>
        {[
          whichTry(attempt),
          say.status[attempt.status],
          attempt.extra && say.extra,
          attempt.load && say.load(valueSays(attempt.load)),
          attempt.startedAt && wallClock(attempt.startedAt, zone, true),
          attempt.finish && say.finish(raceTime(Math.floor(attempt.finish.elapsedMs / 10)), attempt.finish.laps),
        ]
          .filter(Boolean)
          .join(', ')}
        {attempt.sheetPhotos?.map((photoDigest) => (
          <EvidencePhoto key={photoDigest} photoDigest={photoDigest} />
        ))}
      </li>
      {attempt.observations.map((seen) => (
        <li key={seen.observationId}>
          {inbox.observed(
            observed(seen),
            wallClock(seen.at, zone, true),
            staffName(house, seen.personId) || words.frame.notSignedOn,
            deviceName(house, seen.deviceId),
          )}{' '}
          <EvidencePhoto photoDigest={seen.photoDigest ?? seen.fromPaper?.photoDigest} />
          {seen.fromPaper && <p>{say.fromPaper(seen.fromPaper.sheet, staffName(house, seen.fromPaper.writerId))}</p>}
        </li>
      ))}
      {attempt.corrections.map((one) => (
        <li key={one.correctionId}>
          <strong>
            {say.correctionWas(
              say.corrections[one.kind] ?? one.kind,
              wallClock(one.at, zone, true),
              staffName(house, one.personId),
              staffName(house, one.countersigned),
            )}
          </strong>
        </li>
      ))}
      {attempt.openReviews.map((because) => (
        <li key={because} class="record-open">
          {inbox.because[because] ?? because}
        </li>
      ))}
    </ul>
  )
}

export const whichTry = ({ number, official }: Pick<AttemptView, 'number' | 'official'>): string =>
  words.supervisor.record.attempt(number, official)

function observed({ outcome, value, folds, fault, keptUnusual, as }: AttemptView['observations'][number]): string {
  const { station } = words
  const outcomes: Partial<Record<typeof outcome, string>> = station.outcome
  return [
    value && valueSays(value),
    folds.length > 0 && station.foldsSaved(folds.length),
    outcomes[outcome],
    fault && (station.faults[fault] ?? fault),
    keptUnusual && station.kept,
    as === 'secondWitness' && station.secondReading,
  ]
    .filter(Boolean)
    .join(', ')
}
