import { useState } from 'preact/hooks'
import type { Day } from '@musterbook/day/day'
import { dayViews } from '@musterbook/day/views'
import type { BoardView } from '@musterbook/day/views/board'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice } from '../parts/field/field.tsx'
import { GatePanel } from '../parts/gate-panel/gate-panel.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { Timeline } from '../parts/timeline/timeline.tsx'
import { figure, shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'
import { BoardTable, Queues } from './board.tsx'
import type { Entry } from './entries.ts'
import { staffName, whoIs } from './who.ts'

type Pane = keyof typeof words.supervisor.replay.panes

interface Props {
  house: House
  day: Day
  /** When the entry was recorded: ages are as they were then. */
  at: number
  entries: readonly Entry[]
  position: number
  devices: ReadonlyMap<string, string>
  says: (position: number) => string
  /** The day after so many entries of the record. */
  dayAfter: (entries: number) => Day
  onStep: (position: number) => void
}

/** The screens as they stood at that moment, from the same views that were live then. */
export function Stood(props: Props) {
  const [pane, choose] = useState<Pane>('board')
  const { replay: say } = words.supervisor
  return (
    <section class="stack replay-stood" aria-label={say.shows}>
      <h3>{say.shows}</h3>
      <Tabs
        label={say.shows}
        value={pane}
        choices={(Object.keys(say.panes) as Pane[]).map((value) => ({ value, says: say.panes[value] }))}
        onChange={(value) => choose(value as Pane)}
      />
      {pane === 'board' && <BoardThen {...props} />}
      {pane === 'station' && <StationThen {...props} />}
      {pane === 'holds' && <HoldsThen {...props} />}
      {pane === 'entries' && <EntriesAround {...props} />}
    </section>
  )
}

function BoardThen({ house, day, at }: Props) {
  const board: BoardView = dayViews.board.of(day, 'all') as BoardView
  return (
    <div class="stack">
      <Queues house={house} queues={board.queues} now={at} />
      <BoardTable rows={board.students} stations={board.queues} name={(student) => whoIs(house, student.studentId, student.bib)} />
    </div>
  )
}

function StationThen({ house, day: then, at, entries, position, devices, dayAfter }: Props) {
  const stations = then.opened?.rules.stations ?? []
  const [chosen, choose] = useState<string>(stations[0]?.stationId ?? '')
  const [looked, look] = useState('')
  const { replay: say, board: sayBoard } = words.supervisor
  const stationId = stations.some((station) => station.stationId === chosen) ? chosen : (stations[0]?.stationId ?? '')
  const screens = screensAt(entries, position, stationId)
  const [screen, turn] = useState('')
  const shown = screens.find(({ deviceId }) => deviceId === screen)
  const day = shown ? dayAfter(Math.min(shown.seen, position)) : then
  const view = dayViews.station.of(day, stationId) as StationView | null
  if (!view) return <EmptyState says={say.nobodyHere} />
  const inLine = view.students.filter(({ place }) => place === 'waiting' || place === 'called' || place === 'underWay')
  const student = view.students.find((one) => one.studentId === looked) ?? inLine[0]
  return (
    <div class="stack">
      <div class="supervisor-pair">
        <Choice
          label={say.station}
          value={stationId}
          choices={stations.map((station) => ({ value: station.stationId, says: station.protocol.name }))}
          onChange={choose}
        />
        <Choice
          label={say.gatesOfWhom}
          value={student?.studentId ?? ''}
          blank={say.chooseGates}
          choices={view.students.map((one) => ({ value: one.studentId, says: whoIs(house, one.studentId, one.bib) }))}
          onChange={look}
        />
      </div>
      {screens.length > 0 && (
        <div class="supervisor-pair">
          <Choice
            label={say.whoseScreen}
            value={shown?.deviceId ?? ''}
            blank={say.asRecorded}
            choices={screens.map((one) => ({ value: one.deviceId, says: devices.get(one.deviceId) ?? one.deviceId }))}
            onChange={turn}
          />
          <ul class="record-facts">
            {screens.map((one) => (
              <li key={one.deviceId}>
                {say.screenThen(
                  devices.get(one.deviceId) ?? one.deviceId,
                  shortDuration(Math.max(0, at - (then.devices.get(one.deviceId as never)?.lastHeardAt ?? one.toldAt))),
                  one.seen,
                  one.place - 1,
                )}
              </li>
            ))}
          </ul>
        </div>
      )}
      {view.hold && <Mark state="hold" says={words.hold.zone(overZone(view.hold))} />}
      <div class="supervisor-pair">
        <section class="stack" aria-label={say.inQueue}>
          <h4>{say.inQueue}</h4>
          {inLine.length === 0 && <p>{words.queue.waiting(0)}</p>}
          <ol class="stack">
            {inLine.map((one) => (
              <li key={one.studentId} class="office-line">
                <span>{whoIs(house, one.studentId, one.bib)}</span>
                <Mark
                  state={one.place === 'waiting' ? 'waiting' : one.place === 'called' ? 'called' : 'underWay'}
                  says={`${sayBoard.station[one.place as 'waiting']}${one.waitingSince !== null ? `, ${shortDuration(at - one.waitingSince)}` : ''}`}
                />
              </li>
            ))}
          </ol>
        </section>
        {student ? (
          <GatePanel
            title={say.gatesOf(whoIs(house, student.studentId, student.bib))}
            gates={student.gates.map((gate) => ({
              id: gate.gate,
              name: words.station.gates[gate.gate],
              // What runs out by itself had run out by then, or had not.
              state: gate.gate === 'reading' && gate.until !== null && gate.until < at ? 'unknown' : gate.state,
              detail:
                gate.gate === 'rest' && gate.until !== null && gate.until > at
                  ? words.station.restWaits(shortDuration(gate.until - at))
                  : (gate.says ?? undefined),
              resolver: gate.who ?? undefined,
            }))}
          />
        ) : (
          <EmptyState says={view.students.length > 0 ? say.chooseGates : say.nobodyHere} />
        )}
      </div>
    </div>
  )
}

interface ScreenThen {
  deviceId: string
  /** Which version its last act here said it had shown, and which entry that act became. */
  seen: number
  place: number
  toldAt: number
}

/** Devices that had told something of this station by then, each with what its screen had shown last. */
function screensAt(entries: readonly Entry[], position: number, stationId: string): ScreenThen[] {
  const last = new Map<string, ScreenThen>()
  for (const [at, { events, meta, recordedAt }] of entries.slice(0, position).entries()) {
    const isHere = events.some((event) => 'stationId' in event && event.stationId === stationId)
    const { seenVersion } = meta as Entry['meta'] & { seenVersion?: number }
    if (isHere && seenVersion !== undefined)
      last.set(meta.deviceId, { deviceId: meta.deviceId, seen: seenVersion, place: at + 1, toldAt: recordedAt })
  }
  return [...last.values()]
}

function HoldsThen({ house, day, at, devices }: Props) {
  const { replay: say } = words.supervisor
  const zone = day.opened?.facts.timeZone ?? 'UTC'
  const safety: SafetyView = dayViews.safety.of(day, 'all') as SafetyView
  const { newest } = safety
  return (
    <div class="stack">
      {safety.holds.length === 0 && <p>{say.noHolds}</p>}
      <ul class="stack">
        {safety.holds.map((hold) => (
          <li key={hold.holdId} class="sheet stack">
            <Mark state={hold.lifted ? 'withdrawn' : 'hold'} says={hold.lifted ? say.lifted : say.inForce} />
            <p>
              {say.hold(
                overZone(hold),
                words.raiseHold.kinds[hold.kind],
                wallClock(hold.since, zone, true),
                hold.personId ? staffName(house, hold.personId) : words.shell.byPolicy,
              )}
              {hold.lifted && `, ${say.holdLifted(wallClock(hold.lifted.at, zone, true), staffName(house, hold.lifted.by))}`}
            </p>
            <p>
              {say.holdUnderWay(hold.underWay.length)}: {hold.underWay.map(({ bib }) => `#${bib ?? '?'}`).join(', ') || words.common.none}.{' '}
              {say.holdHeard(hold.heard.length, hold.heard.length + hold.notHeard.length)}.
              {hold.underWay.some((one) => one.orderNotCertain) && ` ${words.hold.orderUnknown}`}
            </p>
          </li>
        ))}
      </ul>
      <p>
        {newest
          ? say.reading(
              newest.wbgtTenths === null
                ? words.common.unknown
                : `${figure(newest.wbgtTenths / 10, 1)} ${newest.unit === 'degC' ? '°C' : '°F'}`,
              newest.zone,
              wallClock(newest.readAt, zone),
              newest.instrumentId,
            )
          : say.noReading}
      </p>
      <h4>{say.contact}</h4>
      <ul class="seal-loose">
        {safety.devices.map(({ deviceId, lastHeardAt }) => (
          <li key={deviceId}>
            {devices.get(deviceId) ?? deviceId}: {words.supervisor.devices.ago(shortDuration(at - lastHeardAt))}
          </li>
        ))}
      </ul>
    </div>
  )
}

/** Some lines before and after: what led here, and what came of it. */
function EntriesAround({ house, entries, position, devices, says, onStep }: Props) {
  const from = Math.max(0, position - 12)
  return (
    <Timeline
      zone={house.day.value?.timeZone ?? 'UTC'}
      current={String(position)}
      onChoose={(id) => onStep(Number(id))}
      moments={entries.slice(from, position + 12).map((entry, at) => ({
        id: String(from + at + 1),
        happenedAt: happenedAt(entry.meta),
        recordedAt: entry.recordedAt,
        says: says(from + at + 1).slice(9),
        person: entry.meta.personId ? staffName(house, entry.meta.personId) : words.supervisor.replay.nobody,
        device: devices.get(entry.meta.deviceId) ?? entry.meta.deviceId,
      }))}
    />
  )
}
