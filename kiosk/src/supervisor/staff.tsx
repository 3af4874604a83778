import { useState } from 'preact/hooks'
import type { Person } from '@musterbook/vocabulary/office'
import type { PersonId, StationId } from '@musterbook/vocabulary/ids'
import type { DayView } from '@musterbook/day/views'
import type { House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { useFetched } from '../office/fetched.ts'
import { Waits } from '../office/waits.tsx'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { lastTold, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { staffName } from './who.ts'

interface Unlisted {
  personId: string
  station: DayView['stations'][number]
}

/** Who works at which station. Somebody who is not listed as qualified is refused first, and may be accepted by a supervisor with a reason. */
export function Staff({ house }: { house: House }) {
  const people = useFetched<Person[]>(house, '/api/office/people')
  const [unlisted, ask] = useState<Unlisted | undefined>(undefined)
  const { staff: say } = words.supervisor
  const day = house.day.value
  if (!people.value || !day) return <Waits on={people} />
  const mayChange = may(house, 'assignStaff')
  const mayAccept = house.session.value?.person?.roles.includes('supervisor') ?? false
  const assign = async (personId: string, station: DayView['stations'][number], acceptedBecause: string | null) => {
    const outcome = await tell(house, say.told(staffName(house, personId), station.name), 'assignStaff', {
      personId: personId as PersonId,
      stationId: station.stationId as StationId,
      qualified: false,
      acceptedBecause,
    })
    if (outcome.said !== 'refused' || outcome.refusal.rule !== 'notQualified') return ask(undefined)
    // The day knows people by their id alone; whoever reads this knows them by name.
    const params = { ...outcome.refusal.params, person: staffName(house, personId) }
    if (lastTold.value) lastTold.value = { ...lastTold.value, outcome: { ...outcome, refusal: { ...outcome.refusal, params } } }
    ask(mayAccept ? { personId, station } : undefined)
  }
  return (
    <section class="stack">
      <h2>{say.title}</h2>
      <ul class="staff-list">
        {day.stations.map((station) => (
          <li key={station.stationId} class="sheet stack">
            <h3>{station.name}</h3>
            {station.staff.length === 0 && <p>{say.nobody}</p>}
            <ul class="stack">
              {station.staff.map((personId) => (
                <li key={personId} class="office-line">
                  <span>
                    {staffName(house, personId)}
                    {!listed(people.value!, personId, station.stationId, day.date) && <small class="quiet">, {say.accepted}</small>}
                  </span>
                  {mayChange && (
                    <Button
                      size="small"
                      label={say.releaseNamed(staffName(house, personId), station.name)}
                      onPress={() =>
                        void tell(house, say.released(staffName(house, personId), station.name), 'releaseStaff', {
                          personId: personId as PersonId,
                          stationId: station.stationId as StationId,
                        })
                      }
                    >
                      {say.release}
                    </Button>
                  )}
                </li>
              ))}
            </ul>
            {mayChange && (
              <Assign
                station={station}
                people={people.value!}
                date={day.date}
                onAssign={(personId) => void assign(personId, station, null)}
              />
            )}
          </li>
        ))}
      </ul>
      {unlisted && (
        <Accept
          title={say.notListed(staffName(house, unlisted.personId), unlisted.station.name)}
          onClose={() => ask(undefined)}
          onAccept={(reason) => {
            lastTold.value = undefined
            void assign(unlisted.personId, unlisted.station, reason)
          }}
        />
      )}
    </section>
  )
}

const listed = (people: readonly Person[], personId: string, at: string, date: string): boolean =>
  people
    .find((person) => person.personId === personId)
    ?.qualifications.some(({ stationId, until }) => stationId === at && (until === null || until >= date)) ?? false

interface AssignProps {
  station: DayView['stations'][number]
  people: readonly Person[]
  date: string
  onAssign: (personId: string) => void
}

function Assign({ station, people, date, onAssign }: AssignProps) {
  const [personId, choose] = useState('')
  const { staff: say } = words.supervisor
  const isListed = ({ personId }: Person) => listed(people, personId, station.stationId, date)
  const free = people
    .filter((person) => !person.left && person.roles.includes('station') && !station.staff.includes(person.personId))
    .sort((one, other) => Number(isListed(other)) - Number(isListed(one)) || one.name.localeCompare(other.name))
  return (
    <div class="row office-foot">
      <Choice
        label={say.assignTo(station.name)}
        value={personId}
        blank={say.choosePerson}
        choices={free.map((person) => ({
          value: person.personId,
          says: isListed(person) ? `${person.name}, ${say.qualified}` : person.name,
        }))}
        onChange={choose}
      />
      <Button
        label={`${say.assign}: ${station.name}`}
        onPress={() => {
          if (personId) onAssign(personId)
          choose('')
        }}
      >
        {say.assign}
      </Button>
    </div>
  )
}

function Accept({ title, onClose, onAccept }: { title: string; onClose: () => void; onAccept: (reason: string) => void }) {
  const [reason, type] = useState('')
  const [wrong, setWrong] = useState('')
  const { staff: say } = words.supervisor
  return (
    <Dialog
      title={title}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={() => (reason.trim() ? onAccept(reason.trim()) : setWrong(words.station.moreReason))}>
          {say.accept}
        </Button>
      }
    >
      <div class="stack">
        <p>{say.acceptHelp}</p>
        <Field label={say.acceptReason} long value={reason} onInput={type} maxLength={2000} error={wrong || undefined} />
      </div>
    </Dialog>
  )
}
