import { mayLift } from '@musterbook/heat/hold-policy'
import { useState } from 'preact/hooks'
import { refusal, type Rule } from '@musterbook/vocabulary/refusals'
import type { ReadingStrip } from '@musterbook/day/views/parts'
import type { HoldView, SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { refusalSays } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { safetyActs } from './acts.ts'
import { type AirOrCold, callsForHold, hazardSays, holdsAtSays, newestOf } from './air-and-cold.ts'
import { wbgtSays } from './wbgt-says.ts'

interface Props {
  house: House
  safety: SafetyView
  hold: HoldView
}

/**
 * The way out of a hold: evidence, a proposal, a second person. What stands in the way is said beside each reading by the
 * core's own rule; the day asks it again at both touches.
 */
export function Lift({ house, safety, hold }: Props) {
  const [chosen, choose] = useState<string | null>(null)
  const [reason, type] = useState('')
  const acts = safetyActs(house)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const readings = safety.readings
    .filter((one) =>
      hold.zoneId === null ? safety.zones.find(({ zoneId }) => zoneId === one.zoneId)?.outdoor : one.zoneId === hold.zoneId,
    )
    .slice(-5)
    .reverse()
  const offered = chosen ?? readings[0]?.readingId ?? null
  const proposer = hold.proposal && (house.staff.value.get(hold.proposal.by) ?? hold.proposal.by)
  const rests = safety.readings.find(({ readingId }) => readingId === hold.proposal?.readingId)

  return (
    <section class="stack" aria-label={words.safety.lift}>
      <h3>{words.safety.lift}</h3>
      <p>{words.safety.liftHelp}</p>
      {hold.dispositionDue > 0 && <Mark state="notMet" says={words.safety.disposeFirst(hold.dispositionDue)} />}
      {hold.kind === 'heat' ? (
        readings.length === 0 ? (
          <Mark state="notMet" says={words.safety.liftNoReading} />
        ) : (
          <fieldset class="evidence">
            <legend>{words.safety.liftOn}</legend>
            {readings.map((one) => (
              <Offered
                key={one.readingId}
                house={house}
                safety={safety}
                hold={hold}
                reading={one}
                chosen={one.readingId === offered}
                onChoose={() => choose(one.readingId)}
              />
            ))}
          </fieldset>
        )
      ) : hold.kind === 'lightning' ? (
        <Lightning house={house} safety={safety} hold={hold} />
      ) : (
        <>
          {(hold.kind === 'air' || hold.kind === 'cold') && <SeenSince house={house} safety={safety} hold={hold} kind={hold.kind} />}
          <Field label={words.safety.liftReason} value={reason} onInput={type} maxLength={200} />
        </>
      )}
      <div>
        <Button
          onPress={() => void acts.propose(hold.holdId, hold.kind === 'heat' ? (offered as string | null) : null, reason.trim() || null)}
        >
          {words.safety.propose}
        </Button>
      </div>
      {hold.proposal && proposer && (
        <div class="proposal">
          <p class="figures">
            <strong>{words.safety.proposed(proposer, wallClock(hold.proposal.at, zone))}</strong>{' '}
            {rests && rests.wbgtTenths !== null && words.safety.proposedOn(lineOf(rests, zone))}
          </p>
          <Button kind="primary" detail={words.safety.confirmHelp} onPress={() => void acts.confirm(hold.holdId)}>
            {words.safety.confirm}
          </Button>
        </div>
      )}
    </section>
  )
}

interface OfferedProps extends Props {
  reading: ReadingStrip
  chosen: boolean
  onChoose: () => void
}

function Offered({ house, safety, hold, reading, chosen, onChoose }: OfferedProps) {
  const against = inTheWay(safety, hold, reading, house.clock.now.value)
  return (
    <label class="offered">
      <input type="radio" name={`lift-${hold.holdId}`} checked={chosen} onChange={onChoose} />
      <span class="offered-words">
        <strong class="figures">{lineOf(reading, house.day.value?.timeZone ?? 'UTC')}</strong>
        {reading.saidSettledEarly && (
          <Mark
            state="unknown"
            says={words.safety.saidEarly(reading.readBy ? (house.staff.value.get(reading.readBy) ?? reading.readBy) : words.common.unknown)}
          />
        )}
        <Mark state={against ? 'notMet' : 'done'} says={against ?? words.safety.liftNothing} />
      </span>
    </label>
  )
}

function inTheWay(safety: SafetyView, hold: HoldView, reading: ReadingStrip, nowMs: number): string | null {
  if (!safety.policy) return words.safety.policyNone
  const { policy } = safety
  const asked = mayLift({ reading, others: safety.readings, hold: { raisedAt: hold.since, bandMs: hold.bandMs }, policy, nowMs })
  if ('granted' in asked) return null
  const rule: Rule = asked.refused === 'otherUnit' ? 'readingUnusable' : asked.refused
  return refusalSays(refusal(rule, { policy: policy.id, minutes: policy.dwellMinutes })).says
}

const lineOf = (reading: ReadingStrip, zone: string): string =>
  `${wbgtSays(reading)}, ${wallClock(reading.readAt, zone)}, ${reading.zone}, ${reading.instrumentId}`

/** Each thunder or flash restarts the clock; without one since, the raise itself started it. */
function Lightning({ house, safety, hold }: Props) {
  const last = Math.max(hold.since, ...safety.hazards.filter(({ kind }) => kind === 'thunder' || kind === 'flash').map(({ at }) => at))
  const since = house.clock.now.value - last
  const left = safety.lightningMinutes * 60_000 - since
  return (
    <Mark
      state={left > 0 ? 'notMet' : 'done'}
      says={words.safety.liftLightning(safety.lightningMinutes, shortDuration(since), left > 0 ? shortDuration(left) : '')}
    />
  )
}

/** The newest value since the raise, beside the site's own figure. */
function SeenSince({ house, safety, hold, kind }: Props & { kind: AirOrCold }) {
  const newest = newestOf(safety, kind, hold.since)
  const calls = callsForHold(safety, kind, newest?.value)
  const says =
    newest && words.safety.seenSince(hazardSays(newest.kind, newest.value), wallClock(newest.at, house.day.value?.timeZone ?? 'UTC'))
  return (
    <>
      <p>{holdsAtSays(safety, kind)}</p>
      <Mark state={!newest || calls ? 'notMet' : 'done'} says={says ?? words.safety.seenNone} />
    </>
  )
}
