import { useState } from 'preact/hooks'
import type { Person } from '@musterbook/vocabulary/office'
import type { PlacedStation } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog, Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { useFetched } from './fetched.ts'
import { mayAsk } from './may.ts'
import { rowActs } from './row-acts.tsx'
import { siteToday } from './today.ts'
import { Waits } from './waits.tsx'

const roles = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator', 'auditor'] as const

/** Who works here, as what, and qualified for which station until when. */
export function People({ house }: { house: House }) {
  const people = useFetched<Person[]>(house, '/api/office/people')
  const venue = useFetched<{ stations: PlacedStation[] }>(house, '/api/office/venue')
  const [adding, add] = useState(false)
  const [changing, change] = useState<string | undefined>(undefined)
  const { people: say, editNamed, edit } = words.office
  if (!people.value || !venue.value) return <Waits on={people.value ? venue : people} />
  const { stations } = venue.value
  const mayChange = mayAsk(house, 'addPerson')
  const here = people.value.filter(({ left }) => !left)
  const unbadged = here.filter(({ badge }) => badge === null).map(({ personId }) => personId)
  const person = people.value.find(({ personId }) => personId === changing)
  const today = siteToday(house)
  const stationName = (id: string) => stations.find(({ stationId }) => stationId === id)?.name ?? id

  return (
    <section class="stack">
      <h2>{say.title}</h2>
      {mayChange && (
        <div class="row">
          <Button kind="primary" onPress={() => add(true)}>
            {say.add}
          </Button>
          {unbadged.length > 0 && (
            <Button onPress={() => void askOffice(house, say.badgesMade, 'badges', { personIds: unbadged }).then(people.refresh)}>
              {say.makeBadges(unbadged.length)}
            </Button>
          )}
        </div>
      )}
      {here.some(({ badge }) => badge) && <PrintBadges says={say.printBadges} />}
      <DataTable<Person>
        caption={say.title}
        captionSpoken
        rows={here}
        rowKey={(one) => one.personId}
        columns={[
          { key: 'name', head: say.name, cell: (one) => one.name, sortBy: (one) => one.name },
          { key: 'roles', head: say.roles, cell: (one) => one.roles.map((role) => say.roleNames[role] ?? role).join(', ') },
          {
            key: 'at',
            head: say.qualifications,
            cell: (one) =>
              one.qualifications
                .map(({ stationId, until }) =>
                  [stationName(stationId), until && say.until(until), until && until < today && say.expired].filter(Boolean).join(', '),
                )
                .join('; '),
          },
          { key: 'pin', head: say.pin, cell: (one) => say.pins[one.pin] },
          { key: 'badge', head: say.badge, cell: (one) => one.badge ?? say.noBadge },
          ...rowActs<Person>(mayChange, edit, (one) => [{ says: edit, label: editNamed(one.name), onPress: () => change(one.personId) }]),
        ]}
      />
      <AddPerson house={house} open={adding} onClose={() => add(false)} onDone={() => void people.refresh()} />
      {person && (
        <ChangePerson
          key={person.personId}
          house={house}
          person={person}
          stations={stations}
          onChanged={() => void people.refresh()}
          onClose={() => change(undefined)}
        />
      )}
    </section>
  )
}

function PrintBadges({ says, personId }: { says: (paper: string) => string; personId?: string }) {
  return (
    <div class="row">
      {(['A4', 'Letter'] as const).map((paper) => (
        <a key={paper} class="office-link" href={`/sheets/badges?paper=${paper}${personId ? `&person=${personId}` : ''}`}>
          {says(paper)}
        </a>
      ))}
    </div>
  )
}

function RoleTicks({ chosen, onChange }: { chosen: readonly string[]; onChange: (roles: readonly string[]) => void }) {
  const { people: say } = words.office
  return (
    <fieldset>
      <legend class="office-legend">{say.roles}</legend>
      <div class="office-ticks">
        {roles.map((role) => (
          <Tick
            key={role}
            says={say.roleNames[role]}
            checked={chosen.includes(role)}
            onChange={(on) => onChange(on ? [...chosen, role] : chosen.filter((one) => one !== role))}
          />
        ))}
      </div>
    </fieldset>
  )
}

function AddPerson({ house, open, onClose, onDone }: { house: House; open: boolean; onClose: () => void; onDone: () => void }) {
  const [name, setName] = useState('')
  const [chosen, choose] = useState<readonly string[]>([])
  const [pin, setPin] = useState('')
  const [wrong, setWrong] = useState('')
  const { people: say, saved, add, setUp } = words.office
  const save = async () => {
    const problem =
      name.trim() === '' ? setUp.needed : chosen.length === 0 ? say.rolesMissing : !/^[0-9]{4,12}$/.test(pin) ? setUp.pinWrong : ''
    setWrong(problem)
    if (problem) return
    onClose()
    if (!(await askOffice(house, saved(name), 'people', { name, roles: chosen, qualifications: [], pin }))) return
    setName('')
    choose([])
    setPin('')
    onDone()
  }
  return (
    <Dialog
      title={say.add}
      open={open}
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={() => void save()}>
          {add}
        </Button>
      }
    >
      <div class="stack">
        <Field label={say.name} value={name} onInput={setName} maxLength={120} autoComplete="off" />
        <RoleTicks chosen={chosen} onChange={choose} />
        <Field label={say.firstPin} hint={say.firstPinHint} inputMode="numeric" value={pin} onInput={setPin} autoComplete="off" />
        {wrong && (
          <p class="office-problem" role="alert">
            {wrong}
          </p>
        )}
      </div>
    </Dialog>
  )
}

interface ChangeProps {
  house: House
  person: Person
  stations: readonly PlacedStation[]
  onChanged: () => void
  onClose: () => void
}

function ChangePerson({ house, person, stations, onChanged, onClose }: ChangeProps) {
  const { personId } = person
  const [name, setName] = useState(person.name)
  const [chosen, choose] = useState<readonly string[]>(person.roles)
  const [pin, setPin] = useState('')
  const [stationId, setStation] = useState('')
  const [until, setUntil] = useState('')
  const [leaving, leave] = useState(false)
  const { people: say, saved } = words.office
  const ask = async (noun: string, body: object) => {
    await askOffice(house, saved(person.name), noun, { personId, ...body })
    onChanged()
  }
  const makeBadge = async () => {
    await askOffice(house, saved(person.name), 'badges', { personIds: [personId] })
    onChanged()
  }
  return (
    <>
      <Dialog title={person.name} open={!leaving} onClose={onClose} wide>
        <div class="stack">
          <div class="row office-foot">
            <Field label={say.name} value={name} onInput={setName} maxLength={120} />
            <Button onPress={() => void ask('people-names', { name, seen: { name: person.name } })}>{say.rename}</Button>
          </div>
          <RoleTicks chosen={chosen} onChange={choose} />
          <div class="row">
            <Button onPress={() => void ask('people-roles', { roles: chosen, seen: { roles: person.roles } })}>{say.saveRoles}</Button>
          </div>
          <h3>{say.qualifications}</h3>
          <ul class="office-list">
            {person.qualifications.map((one) => {
              const station = stations.find((each) => each.stationId === one.stationId)?.name ?? one.stationId
              return (
                <li key={one.stationId} class="office-line">
                  <span>
                    {station}, {one.until ? say.until(one.until) : say.always}
                  </span>
                  <Button
                    size="small"
                    label={`${say.end}: ${say.endNamed(station, person.name)}`}
                    onPress={() => void ask('qualification-ends', { stationId: one.stationId })}
                  >
                    {say.end}
                  </Button>
                </li>
              )
            })}
          </ul>
          <div class="row office-foot">
            <Choice
              label={say.station}
              value={stationId}
              blank={say.chooseStation}
              choices={stations.map((each) => ({ value: each.stationId, says: each.name }))}
              onChange={setStation}
            />
            <Field label={say.expires} type="date" optional value={until} onInput={setUntil} />
            <Button onPress={() => stationId && void ask('qualifications', { stationId, until: until || null })}>{say.qualify}</Button>
          </div>
          <h3>{say.pin}</h3>
          <div class="row office-foot">
            <Field label={say.firstPin} hint={say.firstPinHint} inputMode="numeric" value={pin} onInput={setPin} autoComplete="off" />
            <Button onPress={() => void ask('pins', { pin })}>{say.newPin}</Button>
          </div>
          <h3>{say.badge}</h3>
          <p class="quiet">{say.badgeHelp}</p>
          <div class="row">
            <Button onPress={() => void makeBadge()}>{person.badge ? say.badgeLost : say.makeBadge}</Button>
            {person.badge && <Button onPress={() => void ask('badge-returns', {})}>{say.takeBadgeBack}</Button>}
          </div>
          {person.badge && <PrintBadges says={say.printBadge} personId={personId} />}
          <div class="row">
            <Button onPress={() => leave(true)}>{say.letGo}</Button>
          </div>
        </div>
      </Dialog>
      <ConfirmDialog
        title={say.letGo}
        open={leaving}
        confirm={say.letGo}
        onClose={() => leave(false)}
        onConfirm={() => {
          onClose()
          void ask('people-departures', {})
        }}
      >
        <p>{say.letGoSure(person.name)}</p>
      </ConfirmDialog>
    </>
  )
}
