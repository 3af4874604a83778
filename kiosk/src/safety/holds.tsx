import type { HoldView, SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'
import { Dispose } from './dispose.tsx'
import { Lift } from './lift.tsx'
import { mustHear, type Contact } from './roll-call.ts'
import type { Page } from './safety-screen.tsx'
import { wbgtSays } from './wbgt-says.ts'

interface Props {
  house: House
  safety: SafetyView
  contacts: readonly Contact[]
  onGo: (page: Page) => void
}

/** Each hold: who was under way and what became of them, who has heard it, and what lifting it takes. */
export function Holds({ house, safety, contacts, onGo }: Props) {
  const open = safety.holds.filter((hold) => !hold.lifted)
  const past = safety.holds.filter((hold) => hold.lifted)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const nameOf = (personId: string | null) => (personId ? (house.staff.value.get(personId) ?? personId) : words.shell.byPolicy)
  return (
    <div class="stack">
      {open.length === 0 && <EmptyState says={words.safety.holdsNone} help={words.safety.holdsNoneHelp} />}
      {open.map((hold) => (
        <HoldCard key={hold.holdId} house={house} safety={safety} hold={hold} contacts={contacts} onGo={onGo} />
      ))}
      {past.length > 0 && (
        <section class="stack" aria-labelledby="past-holds">
          <h2 id="past-holds">{words.safety.pastHolds}</h2>
          <ul class="figures">
            {past.map((hold) => (
              <li key={hold.holdId}>
                {words.safety.holdTitle(words.raiseHold.kinds[hold.kind], overZone(hold))}:{' '}
                {words.common.since(wallClock(hold.since, zone), '')}{' '}
                {hold.lifted && words.safety.liftedBy(wallClock(hold.lifted.at, zone), nameOf(hold.lifted.by))}
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}

function HoldCard({ house, safety, hold, contacts, onGo }: Props & { hold: HoldView }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const listeners = mustHear(hold, safety, contacts)
  const rests = safety.readings.find(({ readingId }) => readingId === hold.readingId)
  const by = hold.personId ? (house.staff.value.get(hold.personId) ?? hold.personId) : words.shell.byPolicy
  return (
    <article class="hold-card" aria-labelledby={hold.holdId}>
      <h2 id={hold.holdId}>{words.safety.holdTitle(words.raiseHold.kinds[hold.kind], overZone(hold))}</h2>
      <p class="figures">
        {words.common.since(wallClock(hold.since, zone, true), shortDuration(house.clock.now.value - hold.since))}, {words.common.by(by)}.{' '}
        {rests && rests.wbgtTenths !== null && words.safety.raisedOn(wbgtSays(rests))}
      </p>
      {hold.dispositionDue > 0 && <Dispose house={house} hold={hold} />}
      {hold.disposition && (
        <Mark
          state="done"
          says={words.safety.disposed(words.safety.dispositions[hold.disposition as keyof typeof words.safety.dispositions])}
        />
      )}
      <section class="stack">
        <h3>{words.safety.underWay}</h3>
        {hold.underWay.length === 0 && <p>{words.safety.underWayNone}</p>}
        <ul class="under-way">
          {hold.underWay.map((one) => (
            <li key={one.attemptId}>
              <strong class="figures">{words.common.bib(one.bib ?? '?')}</strong>
              <Mark state={outcomes[one.outcome] ?? 'review'} says={words.safety.outcome[one.outcome] ?? one.outcome} />
              {one.orderNotCertain && <span>{words.safety.orderNotCertain}</span>}
            </li>
          ))}
        </ul>
      </section>
      <div class="heard-short">
        <p class="heard-tally" role="status">
          {words.acknowledgements.tally(listeners.filter(({ state }) => state === 'heard').length, listeners.length)}
        </p>
        <Button onPress={() => onGo('heard')}>{words.safety.go.heard}</Button>
      </div>
      <Lift house={house} safety={safety} hold={hold} />
    </article>
  )
}

const outcomes: Record<string, State> = { due: 'notMet', interruptedBySafety: 'hold', stopped: 'stopped', finished: 'done' }
