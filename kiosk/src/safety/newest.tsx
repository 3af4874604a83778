import { isFrom } from '@musterbook/heat/classify'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Mark } from '../parts/mark/mark.tsx'
import { Reading } from '../parts/reading/reading.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** The newest reading, large, never without age, place, instrument and reader; what it is worth under the policy in force. */
export function Newest({ house, safety }: { house: House; safety: SafetyView }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const { policy } = safety
  // The last that was read, whatever it is worth: a cooler one that still counts must not hide a hotter one that is asked about.
  const newest = safety.readings.at(-1) ?? safety.newest
  const isHeld = safety.holds.some((hold) => !hold.lifted)
  const now = house.clock.now.value
  return (
    <section class="newest" aria-label={words.safety.wbgt}>
      <Reading
        reading={
          newest
            ? {
                name: newest.method === 'estimate' ? words.safety.estimate.value(words.safety.wbgt) : words.safety.wbgt,
                value: newest.wbgtTenths === null ? words.common.unknown : words.safety.degrees(newest.wbgtTenths, newest.unit),
                readAt: newest.readAt,
                place: newest.zone,
                instrument: newest.instrumentId,
                by: newest.readBy ? nameOf(house, newest.readBy) : undefined,
                settled: newest.settled,
              }
            : undefined
        }
        now={house.clock.now}
        zone={zone}
        limitMs={policy ? policy.readingAgeMinutes * 60_000 : undefined}
      />
      {newest && policy && newest.wbgtTenths !== null && (
        <p class="newest-worth figures">
          {(isFrom(newest.wbgtTenths, policy.raise) || !isHeld) && (
            <strong>
              {isFrom(newest.wbgtTenths, policy.raise) ? words.safety.atRaise(policy.id) : words.safety.belowRaise(policy.id)}
            </strong>
          )}
          {isHeld && <strong>{words.safety.heldStill}</strong>}
          {newest.saidSettledEarly && <span>{words.safety.saidEarly(nameOf(house, newest.readBy))}</span>}
          {!newest.usable && <span>{words.safety.asked}</span>}
          {newest.method === 'estimate' && <span>{words.safety.estimate.neverLifts}</span>}
          {newest.settled && newest.usable && newest.method !== 'estimate' && !isFrom(newest.wbgtTenths, policy.raise) && !isHeld && (
            <span>
              {now <= newest.validUntil
                ? words.safety.counts(wallClock(newest.validUntil, zone), shortDuration(newest.validUntil - now))
                : words.safety.countsNoMore(wallClock(newest.validUntil, zone))}
            </span>
          )}
        </p>
      )}
      <KeptReadings house={house} />
    </section>
  )
}

/** Read here and not yet at the site: it is not lost, and nothing rests on it yet. */
function KeptReadings({ house }: { house: House }) {
  const kept = house.outbox.waiting.value.filter(({ item }) => item.kind === 'reading').length
  return kept > 0 ? <Mark state="waiting" says={words.safety.readingsKept(kept)} /> : null
}

const nameOf = (house: House, personId: string | null): string =>
  personId ? (house.staff.value.get(personId) ?? personId) : words.common.unknown
