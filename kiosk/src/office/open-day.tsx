import { useState } from 'preact/hooks'
import type { DayView } from '@musterbook/day/views'
import type { OpenRetest } from '@musterbook/gateway/open-retests'
import type { Class, Offer } from '@musterbook/vocabulary/office'
import type { PlacedStation } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { useFetched } from './fetched.ts'
import { may } from '../house/may.ts'
import { Openings } from './openings.tsx'
import { siteToday } from './today.ts'
import { Waits } from './waits.tsx'

/** Opens a day under the rules in force, or says everything that is missing; below, every day there was. */
export function OpenDay({ house }: { house: House }) {
  const days = useFetched<{ body: DayView }[]>(house, '/api/days')
  const { day: say } = words.office
  return (
    <div class="stack">
      {may(house, 'openDay') && <Open house={house} onOpened={() => void days.refresh()} />}
      <section class="stack">
        <h2>{say.days}</h2>
        {!days.value ? (
          <Waits on={days} />
        ) : (
          <DataTable<DayView>
            caption={say.days}
            captionSpoken
            empty={{ says: say.none }}
            rows={days.value.map(({ body }) => body)}
            rowKey={(day) => day.dayId}
            columns={[
              { key: 'title', head: say.name, cell: (day) => day.title },
              { key: 'date', head: say.date, cell: (day) => day.date, sortBy: (day) => day.date },
              { key: 'state', head: words.supervisor.devices.stateHead, cell: (day) => say.state[day.state] },
              { key: 'students', head: words.office.roster.students, cell: (day) => say.students(day.studentIds.length) },
              {
                key: 'open',
                head: say.toSupervisor,
                cell: (day) => (
                  <a
                    href={`/supervisor?day=${encodeURIComponent(day.dayId)}`}
                    aria-label={`${say.toSupervisor}: ${day.title}, ${day.date}`}
                  >
                    {say.toSupervisor}
                  </a>
                ),
              },
            ]}
          />
        )}
      </section>
      {may(house, 'openDay') && <Openings house={house} />}
    </div>
  )
}

function Open({ house, onOpened }: { house: House; onOpened: () => void }) {
  const classes = useFetched<Class[]>(house, '/api/office/classes')
  const venue = useFetched<{ stations: PlacedStation[] }>(house, '/api/office/venue')
  const rules = useFetched<Offer[]>(house, '/api/office/rules')
  const retests = useFetched<OpenRetest[]>(house, '/api/retests')
  const [date, setDate] = useState(siteToday(house))
  const [title, setTitle] = useState('')
  const mustRehearse = house.clock.speed.value !== 1
  const [rehearsal, setRehearsal] = useState(mustRehearse)
  const [chosen, choose] = useState<readonly string[]>([])
  const [coming, come] = useState<readonly string[]>([])
  const [takenUp, takeUp] = useState<readonly string[]>([])
  const [leftOut, leaveOut] = useState<readonly string[]>([])
  const [heat, setHeat] = useState('')
  const [missing, setMissing] = useState<readonly string[]>([])
  const [opened, setOpened] = useState('')
  const [busy, setBusy] = useState(false)
  const { day: say, setUp } = words.office
  // A rehearsal never mixes with real records.
  const toCome = (retests.value ?? []).filter(
    (one) => one.rehearsal === (rehearsal || mustRehearse) && !takenUp.includes(one.entitlementId),
  )
  if (!classes.value || !venue.value || !rules.value) return <Waits on={!classes.value ? classes : !venue.value ? venue : rules} />
  const policies = rules.value.filter(({ kind, state }) => kind === 'heatPolicy' && state === 'inForce')
  const { stations } = venue.value

  const open = async () => {
    if (busy) return
    if (title.trim() === '') return setMissing([`${say.name}: ${setUp.needed}`])
    setBusy(true)
    const told = await house.api.post('/api/days', {
      date,
      title,
      rehearsal: rehearsal || mustRehearse,
      classIds: chosen,
      retests: toCome
        .filter(({ entitlementId }) => coming.includes(entitlementId))
        .map(({ dayId, entitlementId }) => ({ dayId, entitlementId })),
      ...(leftOut.length > 0 && { stationIds: stations.map(({ stationId }) => stationId).filter((one) => !leftOut.includes(one)) }),
      ...(heat && { heatPolicyId: heat }),
    })
    setBusy(false)
    const listed = 'problem' in told ? told.problem['missing'] : undefined
    setMissing(told.said === 'recorded' ? [] : Array.isArray(listed) ? listed.map(String) : [sentenceOf(told) ?? ''])
    setOpened(told.said === 'recorded' ? title : '')
    if (told.said !== 'recorded') return
    // The board of days follows the record a moment later: what was taken up here is offered no more at once.
    takeUp([...takenUp, ...coming])
    come([])
    onOpened()
  }

  return (
    <form
      class="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        void open()
      }}
    >
      <h2>{say.title}</h2>
      <p>{say.help}</p>
      <div class="office-form">
        <Field label={say.date} type="date" value={date} onInput={setDate} />
        <Field label={say.name} value={title} onInput={setTitle} maxLength={120} />
        {policies.length > 1 && (
          <Choice
            label={say.heat}
            value={heat}
            blank={say.onlyOne}
            choices={policies.map(({ id, name, edition }) => ({ value: id, says: `${name}, ${edition}` }))}
            onChange={setHeat}
          />
        )}
      </div>
      {mustRehearse ? (
        <p class="office-note">{say.mustRehearse}</p>
      ) : (
        <Tick says={say.rehearsal} checked={rehearsal} onChange={setRehearsal} />
      )}
      <fieldset>
        <legend class="office-legend">{say.classes}</legend>
        {classes.value.length === 0 && <p>{say.noClass}</p>}
        <div class="office-ticks">
          {classes.value.map(({ classId, name, students }) => (
            <Tick
              key={classId}
              says={`${name}, ${say.students(students)}`}
              checked={chosen.includes(classId)}
              onChange={(on) => choose(on ? [...chosen, classId] : chosen.filter((one) => one !== classId))}
            />
          ))}
        </div>
      </fieldset>
      <fieldset>
        <legend class="office-legend">{say.retests}</legend>
        <p>{toCome.length > 0 ? say.retestsHelp : retests.failed ? words.office.noAnswer : say.noRetests}</p>
        <div class="office-ticks">
          {toCome.map((one) => (
            <Tick
              key={one.entitlementId}
              says={say.retest(one.name, one.code, one.stations.join(', '), one.grantedOn, one.until)}
              checked={coming.includes(one.entitlementId)}
              onChange={(on) => come(on ? [...coming, one.entitlementId] : coming.filter((other) => other !== one.entitlementId))}
            />
          ))}
        </div>
      </fieldset>
      <fieldset>
        <legend class="office-legend">{say.stations}</legend>
        <div class="office-ticks">
          {stations.map(({ stationId, name }) => (
            <Tick
              key={stationId}
              says={name}
              checked={!leftOut.includes(stationId)}
              onChange={(on) => leaveOut(on ? leftOut.filter((one) => one !== stationId) : [...leftOut, stationId])}
            />
          ))}
        </div>
      </fieldset>
      <div role="alert">
        {missing.length > 0 && (
          <div class="office-missing stack">
            <h3>{say.missing}</h3>
            <ul class="office-bullets">
              {missing.map((one) => (
                <li key={one}>{one}</li>
              ))}
            </ul>
          </div>
        )}
      </div>
      <p role="status">{opened && `${say.opened}: ${opened}`}</p>
      <div class="row">
        <Button type="submit" kind="primary" size="key" busy={busy}>
          {say.open}
        </Button>
      </div>
    </form>
  )
}
