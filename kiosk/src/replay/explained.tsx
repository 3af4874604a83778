import { useEffect, useMemo, useRef } from 'preact/hooks'
import { explain, type Evidence } from '@musterbook/replay/explain'
import type { FromPaper } from '@musterbook/vocabulary/attempt'
import type { StationId, StudentId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EvidencePhoto } from '../parts/evidence-photo/evidence-photo.tsx'
import { staffName } from '../supervisor/who.ts'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { placeIn, type Desk } from './desk.ts'
import type { Place } from './replay-screen.tsx'
import { resultSays } from './result-says.ts'
import { saveAs } from './save.ts'
import { Typed } from './typed.tsx'

interface Props {
  desk: Desk
  place: Place
  onGo: (change: Partial<Place>) => void
}

/** From the percentile back to each tap, with who, when by both clocks, and on which device. */
export function Explained({ desk, place, onGo }: Props) {
  const { replay: say } = words
  const { studentId, stationId } = place
  const why = useMemo(() => explain(desk.now, desk.entries, studentId as StudentId, stationId as StationId), [desk, studentId, stationId])
  const section = useRef<HTMLElement>(null)
  // What was asked for comes to where the eye is.
  useEffect(() => section.current?.scrollIntoView({ block: 'start' }), [studentId, stationId])
  if (!why) return null
  const name = desk.house.day.value?.stations.find((one) => one.stationId === stationId)?.name ?? stationId
  const clock = (at: number) => wallClock(at, desk.zone, true)
  const who = (one: Evidence) =>
    `${staffName(desk.house, one.personId) || words.supervisor.replay.nobody}, ${desk.devices.get(one.deviceId) ?? one.deviceId}`
  const rows = rowsOf(why.all)
  return (
    <section ref={section} class="sheet stack replay-explained" aria-label={say.explained(name)}>
      <h2>{say.explained(name)}</h2>
      <p class="replay-result figures">{resultSays(why.result)}</p>
      <div class="row">
        <Button onPress={() => onGo({ part: 'whatIf' })}>{say.whatIfThis(name)}</Button>
        <Button kind="quiet" onPress={() => saveAs(`explained-${stationId}.json`, why)}>
          {say.download}
        </Button>
      </div>
      <DataTable
        caption={say.evidence}
        rows={rows}
        rowKey={(one) => `${one.stream} ${one.version}`}
        columns={[
          {
            key: 'when',
            head: say.when,
            figures: true,
            cell: (one) => (
              <>
                <span class="replay-when">{say.band(clock(one.happenedAt), `${one.bandMs} ms`)}</span>
                <small class="replay-second">
                  {say.recordedAt} {clock(one.recordedAt)}
                </small>
              </>
            ),
          },
          {
            key: 'says',
            head: say.says,
            names: true,
            cell: (one) => (
              <>
                {desk.says(placeIn(desk.entries, one))}
                <Typed house={desk.house} events={one.events} />
                {one.events.map((event, at) => (
                  <EvidencePhoto key={at} photoDigest={photoOf(event)} />
                ))}
              </>
            ),
          },
          { key: 'who', head: say.who, cell: (one) => who(one) },
          {
            key: 'stand',
            head: say.stand,
            screenOnly: true,
            cell: (one) => {
              const at = placeIn(desk.entries, one) + 1
              return (
                <Button size="small" label={`${say.stand}: ${say.standAt(at)}`} onPress={() => onGo({ part: 'moment', position: at })}>
                  {say.stand}
                </Button>
              )
            },
          },
        ]}
      />
      <h3>{say.working}</h3>
      <ol class="replay-working">
        {why.lines.map(({ step, entries }, at) => (
          <li key={at}>
            {step.rule}: {step.from} {say.gives} <strong class="figures">{step.gives}</strong>
            {entries.length > 0 && (
              <small class="replay-second">
                {say.restsOn}: {[...new Set(entries.map((one) => say.band(clock(one.happenedAt), `${one.bandMs} ms`)))].join('; ')}
              </small>
            )}
          </li>
        ))}
      </ol>
      <h3>{say.checks}</h3>
      {why.checks.length === 0 && <p>{say.noInstrument}</p>}
      <ul class="record-facts">
        {why.checks.map(({ equipmentId, entry, passed }) => (
          <li key={equipmentId}>
            {entry ? say.checked(equipmentId, clock(entry.happenedAt), passed === true) : say.unchecked(equipmentId)}
          </li>
        ))}
      </ul>
      <h3>{say.rules}</h3>
      <p>
        {say.rule(
          why.rules.protocolId,
          why.rules.protocolVersion,
          why.rules.source,
          why.rules.table ? say.norms(why.rules.table) : say.noTable,
        )}
      </p>
    </section>
  )
}

/** The digest that an event names of a picture taken beside it, or of the sheet that it was typed from. */
const photoOf = (event: unknown): string | null => {
  const { photoDigest, fromPaper } = event as { photoDigest?: string | null; fromPaper?: FromPaper | null }
  return photoDigest ?? fromPaper?.photoDigest ?? null
}

/** One row an entry: what it told at once stands together. */
function rowsOf(all: readonly Evidence[]): (Evidence & { events: unknown[] })[] {
  const rows = new Map<string, Evidence & { events: unknown[] }>()
  for (const one of all) {
    const key = `${one.stream} ${one.version}`
    const row = rows.get(key)
    if (row) row.events.push(one.event)
    else rows.set(key, { ...one, events: [one.event] })
  }
  return [...rows.values()]
}
