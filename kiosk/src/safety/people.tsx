import { useState } from 'preact/hooks'
import type { SafetyView, StopView } from '@musterbook/day/views/safety'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { Headcount } from '../run/headcount.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { safetyActs } from './acts.ts'

/** Medical stops first, then who is cooling down, then everybody who ought to be at the shade. */
export function People({ house, safety }: { house: House; safety: SafetyView }) {
  const [excusing, excuse] = useState<{ studentId: string; bib: string | null } | null>(null)
  const [reason, type] = useState('')
  const outdoor = safety.zones.filter((zone) => zone.outdoor)
  return (
    <div class="split">
      <div class="stack">
        <section class="stack" aria-labelledby="stops">
          <h2 id="stops">{words.safety.stops}</h2>
          {safety.stops.length === 0 ? (
            <p>{words.safety.stopsNone}</p>
          ) : (
            <>
              <ul class="stack">
                {safety.stops.map((stop) => (
                  <Stopped key={stop.studentId} house={house} stop={stop} />
                ))}
              </ul>
              <p>{words.safety.onlyScreener}</p>
            </>
          )}
        </section>
        <section class="stack" aria-labelledby="cooling">
          <h2 id="cooling">{words.safety.coolingDown}</h2>
          {safety.coolingDown.length === 0 && <p>{words.safety.coolingNone}</p>}
          <ul class="stack">
            {safety.coolingDown.map((one) => (
              <li key={one.studentId} class="cool-down">
                <StudentCard student={shown(house, one.studentId, one.bib)} />
                <Button onPress={() => excuse(one)}>{words.safety.excuse}</Button>
              </li>
            ))}
          </ul>
        </section>
      </div>
      <div class="stack">
        {outdoor.map(({ zoneId, name }) => (
          <Headcount key={zoneId} house={house} safety={safety} zoneId={zoneId} zone={name} />
        ))}
      </div>
      {excusing && (
        <Dialog
          title={words.safety.excuseTitle(excusing.bib ?? '?')}
          open
          onClose={() => excuse(null)}
          foot={
            reason.trim() !== '' && (
              <Button
                kind="primary"
                onPress={() => {
                  void safetyActs(house).excuse(excusing.studentId, excusing.bib ?? '?', reason.trim())
                  type('')
                  excuse(null)
                }}
              >
                {words.safety.excuseSave}
              </Button>
            )
          }
        >
          <Field label={words.safety.excuseReason} value={reason} onInput={type} maxLength={200} />
        </Dialog>
      )}
    </div>
  )
}

function Stopped({ house, stop }: { house: House; stop: StopView }) {
  const acts = safetyActs(house)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const nameOf = (personId: string | null) => (personId ? (house.staff.value.get(personId) ?? personId) : words.common.unknown)
  const by = stop.personId ?? stop.namedAs
  const bib = stop.bib ?? '?'
  const answered = (answer: string) => stop.answers.find((one) => one.answer === answer)
  const heard = answered('acknowledged')
  const arrived = answered('arrived')
  return (
    <li class="stopped">
      <StudentCard student={shown(house, stop.studentId, stop.bib)} />
      <Mark
        state="stopped"
        says={words.safety.stopLine(
          wallClock(stop.since, zone, true),
          shortDuration(house.clock.now.value - stop.since),
          stop.zone ?? '',
          by ? nameOf(by) : words.safety.stopDevice(stop.deviceId),
        )}
      />
      {heard && <p class="figures">{words.safety.acknowledged(wallClock(heard.at, zone, true), nameOf(heard.personId))}</p>}
      {arrived && <p class="figures">{words.safety.hasArrived(wallClock(arrived.at, zone, true), nameOf(arrived.personId))}</p>}
      {!arrived && (
        <div class="row">
          {!heard && <Button onPress={() => void acts.answerStop(stop.studentId, bib, 'acknowledged')}>{words.safety.acknowledge}</Button>}
          <Button onPress={() => void acts.answerStop(stop.studentId, bib, 'arrived')}>{words.safety.arrived}</Button>
        </div>
      )}
    </li>
  )
}
