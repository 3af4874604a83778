import { useState } from 'preact/hooks'
import type { StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { newId, Shell, showWhat } from '../shell/shell.tsx'
import { formOf } from '../station/form.ts'
import { measured } from '../station/value-entry.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { paperActs, type Sheet } from './acts.ts'
import { lapsWritten, writtenAt } from './written.ts'

/** Paper: the sheets to print before they are needed, and what was written on them, typed in as what it is. */
export function PaperScreen({ house }: { house: House }) {
  const [stationId, choose] = useState<string | null>(null)
  const [sheet, write] = useState<Sheet>({ sheet: '', writerId: '' })
  return (
    <Shell house={house} screen={words.paper.title} roles={['station', 'supervisor']} englishOnly>
      {() => {
        const day = house.day.value
        if (!day) return <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
        const stations = day.stations.filter(({ kind }) => kind !== 'skinfold')
        const chosen = stations.find((station) => station.stationId === stationId) ?? stations[0]
        const view = chosen && house.view<StationView>('station', chosen.stationId).view.value
        return (
          <div class="stack">
            <p>
              <a href={`/sheets/days/${day.dayId}/paper`}>{words.paper.print}</a>
            </p>
            <p>{words.paper.help}</p>
            <div class="row fields">
              <Field
                label={words.paper.sheet}
                hint={words.paper.sheetHint}
                value={sheet.sheet}
                maxLength={20}
                onInput={(number) => write({ ...sheet, sheet: number })}
              />
              <Choice
                label={words.paper.writer}
                value={sheet.writerId}
                blank={words.paper.writerBlank}
                choices={[...house.staff.value].map(([value, says]) => ({ value, says }))}
                onChange={(writerId) => write({ ...sheet, writerId })}
              />
            </div>
            <Tabs
              label={words.paper.station}
              value={chosen?.stationId ?? ''}
              choices={stations.map((station) => ({ value: station.stationId, says: station.name }))}
              onChange={choose}
            />
            {view && sheet.sheet.trim() !== '' && sheet.writerId !== '' ? (
              <Rows key={view.stationId} house={house} view={view} sheet={sheet} />
            ) : (
              <p role="status">{words.paper.sheetFirst}</p>
            )}
          </div>
        )
      }}
    </Shell>
  )
}

interface Props {
  house: House
  view: StationView
  sheet: Sheet
}

const Rows = (props: Props) => (props.view.protocol.kind === 'run' ? <Laps {...props} /> : <Tries {...props} />)

const people = ({ house, view }: Props) =>
  view.students.map(({ studentId, bib }) => ({ value: studentId, says: `#${bib ?? '?'} ${shown(house, studentId, bib).name}` }))

/** One line of a sheet: who, when as it is written, and the value as it is written. */
function Tries(props: Props) {
  const { house, view, sheet } = props
  const [studentId, who] = useState('')
  const [clock, at] = useState('')
  const [typed, value] = useState('')
  const [official, kind] = useState(true)
  const [asked, ask] = useState(false)
  const { protocol } = view
  const form = formOf(protocol as Parameters<typeof formOf>[0])
  const day = house.day.value!
  const written = writtenAt(clock, day.date, day.utcOffsetMinutes)
  const amount = amountIn(typed, form)

  const save = async () => {
    ask(true)
    if (!studentId || !written || amount === null) return
    const read = measured(protocol as Parameters<typeof measured>[0], amount)
    const told = paperActs(house, view).result(studentId, read, protocol.kind === 'loaded' ? read : null, official, sheet, written)
    const outcome = await showWhat(house, words.paper.told(sheet.sheet), told)
    if (!stands(outcome)) return
    who('')
    at('')
    value('')
    ask(false)
  }

  return (
    <form
      class="stack narrow"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <Choice
        label={words.paper.who}
        value={studentId}
        blank={words.paper.whoBlank}
        choices={people(props)}
        onChange={who}
        error={asked && !studentId ? words.paper.needed : undefined}
      />
      <Field
        label={words.paper.when}
        hint={words.paper.whenHint}
        value={clock}
        onInput={at}
        error={asked && !written ? words.paper.whenWrong : undefined}
      />
      <Field
        label={words.paper.value(protocol.name)}
        hint={form.shape === 'time' ? words.paper.timeHint : words.paper.valueHint(form.sign)}
        inputMode="decimal"
        value={typed}
        onInput={value}
        error={asked && amount === null ? words.paper.valueWrong : undefined}
      />
      <Tabs
        label={words.station.kindOfTry}
        value={official ? 'official' : 'practice'}
        choices={[
          { value: 'official', says: words.station.official },
          { value: 'practice', says: words.station.practice },
        ]}
        onChange={(chosen) => kind(chosen === 'official')}
      />
      <Button type="submit" kind="primary">
        {words.paper.save}
      </Button>
    </form>
  )
}

/** A number as it is written, in the unit of the station; nothing where it is none. */
function amountIn(typed: string, form: ReturnType<typeof formOf>): number | null {
  const [, minutes, number] = /^\s*(?:(\d{1,2}):)?(-?\d+(?:[.,]\d+)?)\s*$/.exec(typed) ?? []
  if (!number) return null
  const amount = form.amountOf(Math.round((Number(minutes ?? 0) * 60 + Number(number.replace(',', '.'))) * 10 ** form.places))
  return Number.isInteger(amount) ? amount : null
}

interface WrittenWave {
  waveId: string
  gunAt: number
  runners: readonly { studentId: string }[]
}

/** A wave as its sheet has it: the gun once, then each runner's row of times since the gun. */
function Laps(props: Props) {
  const { house, view, sheet } = props
  const [waveId, wave] = useState(view.waves.at(-1)?.waveId ?? '')
  const [own, keep] = useState<WrittenWave | null>(null)
  const [gun, write] = useState('')
  const [bibs, list] = useState('')
  const [studentId, who] = useState('')
  const [row, laps] = useState('')
  const [asked, ask] = useState(false)
  const day = house.day.value!
  const zone = day.timeZone
  const acts = paperActs(house, view)
  // A gun that is kept here and not yet told has its rows typed in all the same.
  const waves = own && !view.waves.some((one) => one.waveId === own.waveId) ? [...view.waves, own] : view.waves
  const chosen = waves.find((one) => one.waveId === waveId)
  const written = writtenAt(gun, day.date, day.utcOffsetMinutes)
  const runners = bibs.split(/[\s,;]+/).flatMap((bib) => view.students.find((student) => student.bib === bib)?.studentId ?? [])
  const read = lapsWritten(row)

  const fire = async () => {
    ask(true)
    if (!written || runners.length === 0) return
    const id = newId('wave')
    const outcome = await showWhat(house, words.paper.told(sheet.sheet), acts.gun(id, runners, true, written))
    if (!stands(outcome)) return
    ask(false)
    keep({ waveId: id, gunAt: written.at, runners: runners.map((studentId) => ({ studentId })) })
    wave(id)
  }
  const save = async () => {
    ask(true)
    if (!chosen || !studentId || !read) return
    const told = acts.laps(chosen, studentId, read, sheet)
    const outcome = await showWhat(house, words.paper.told(sheet.sheet), told)
    if (!stands(outcome)) return
    ask(false)
    who('')
    laps('')
  }

  return (
    <div class="stack narrow">
      <Choice
        label={words.paper.wave}
        value={waveId}
        blank={words.paper.newWave}
        choices={waves.map((one, index) => ({
          value: one.waveId,
          says: words.paper.waveAt(index + 1, wallClock(one.gunAt, zone, true)),
        }))}
        onChange={wave}
      />
      {waveId === '' ? (
        <>
          <Field
            label={words.paper.gun}
            hint={words.paper.whenHint}
            value={gun}
            onInput={write}
            error={asked && !written ? words.paper.whenWrong : undefined}
          />
          <Field
            label={words.paper.bibs}
            hint={words.paper.bibsHint}
            value={bibs}
            onInput={list}
            error={asked && runners.length === 0 ? words.paper.needed : undefined}
          />
          <Button kind="primary" onPress={() => void fire()}>
            {words.paper.saveGun}
          </Button>
        </>
      ) : (
        <>
          <Choice
            label={words.paper.who}
            value={studentId}
            blank={words.paper.whoBlank}
            choices={people(props).filter(({ value }) => chosen?.runners.some((runner) => runner.studentId === value))}
            onChange={who}
            error={asked && !studentId ? words.paper.needed : undefined}
          />
          <Field
            label={words.paper.laps}
            hint={words.paper.lapsHint}
            value={row}
            onInput={laps}
            error={asked && !read ? words.paper.lapsWrong : undefined}
          />
          <Button kind="primary" onPress={() => void save()}>
            {words.paper.save}
          </Button>
        </>
      )}
    </div>
  )
}
