import type { HoldView, SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { AcknowledgeList, type Listener } from '../parts/acknowledge-list/acknowledge-list.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'
import { HeardByRadio } from './heard-by-radio.tsx'
import { mustHear, othersWhoHear, type Called, type Contact } from './roll-call.ts'

interface Props {
  house: House
  safety: SafetyView
  contacts: readonly Contact[]
}

/** Who has not heard the hold, the longest silent first, and the way on; without a hold how long ago each tablet was heard. */
export function RollCall({ house, safety, contacts }: Props) {
  const open = safety.holds.filter((hold) => !hold.lifted)
  return (
    <div class="stack">
      {house.lost.value && <Mark state="unknown" says={words.safety.rollCallAlone} large />}
      {open.map((hold) => (
        <OfHold key={hold.holdId} house={house} safety={safety} hold={hold} contacts={contacts} />
      ))}
      {open.length === 0 && <EmptyState says={words.safety.holdsNone} help={words.safety.rollCallNone} />}
      {open.length === 0 && <Contacts house={house} contacts={contacts} />}
    </div>
  )
}

function OfHold({ house, safety, hold, contacts }: Props & { hold: HoldView }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const now = house.clock.now.value
  const others = othersWhoHear(hold, safety, contacts)
  return (
    <section class="stack" aria-labelledby={`roll-call-${hold.holdId}`}>
      <h2 id={`roll-call-${hold.holdId}`}>
        {words.safety.holdTitle(words.raiseHold.kinds[hold.kind], overZone(hold))}:{' '}
        <span class="figures">{words.common.since(wallClock(hold.since, zone), shortDuration(now - hold.since))}</span>
      </h2>
      <AcknowledgeList listeners={mustHear(hold, safety, contacts).map((one) => asListed(house, hold, one, now))} />
      {others.length > 0 && (
        <details class="others">
          <summary>{words.safety.elsewhere(others.length)}</summary>
          <AcknowledgeList listeners={others.map((one) => asListed(house, hold, one, now))} />
        </details>
      )}
    </section>
  )
}

function asListed(house: House, hold: HoldView, { stationId, lastHeardAt, ...called }: Called, now: number): Listener {
  const staff = house.day.value?.stations.find((station) => station.stationId === stationId)?.staff ?? []
  const radio = <HeardByRadio house={house} hold={hold} device={called} staff={staff} />
  const person = staff.map((personId) => house.staff.value.get(personId) ?? personId).join(', ')
  if (called.state === 'heard') return { ...called, ...(person && { person }), radio }
  const contact = lastHeardAt === null ? words.safety.neverHeard : shortDuration(now - lastHeardAt)
  const isNoted = hold.heardByRadio?.some(({ deviceId }) => deviceId === called.id)
  const who = person || called.name
  return {
    ...called,
    ...(person && { person }),
    radio,
    age: words.safety.silentFor(shortDuration(now - hold.since), contact),
    ...(!isNoted && { next: called.state === 'unreachable' ? words.safety.radioThem(who) : words.safety.askThem(who) }),
  }
}

/** Every staff tablet that was heard today, the longest silent first. */
function Contacts({ house, contacts }: Pick<Props, 'house' | 'contacts'>) {
  const heard = contacts
    .filter(({ purpose, lastHeardAt }) => purpose === 'staff' && lastHeardAt !== null)
    .sort((one, other) => (one.lastHeardAt ?? 0) - (other.lastHeardAt ?? 0))
  if (heard.length === 0) return null
  return (
    <section class="stack" aria-labelledby="contacts">
      <h2 id="contacts">{words.safety.contactsTitle}</h2>
      <ul class="contact-list figures">
        {heard.map(({ deviceId, name, lastHeardAt, unreachable }) => (
          <li key={deviceId}>
            <strong>{name}</strong>
            <Mark
              state={unreachable ? 'unknown' : 'done'}
              says={words.common.ago(shortDuration(house.clock.now.value - (lastHeardAt ?? 0)))}
            />
          </li>
        ))}
      </ul>
    </section>
  )
}
