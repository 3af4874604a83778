import { useEffect } from 'preact/hooks'
import type { StationView } from '@musterbook/day/views/station'
import { stationOfSheet } from '@musterbook/stations/written-codes'
import type { PersonId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { keepPhoto, unsentPhotos } from '../house/photo-box.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { TakePhoto } from '../parts/evidence-photo/evidence-photo.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { sayNo, Shell } from '../shell/shell.tsx'
import { useDraft } from '../station/draft.ts'
import { words } from '../words/words.ts'
import { paperActs } from './acts.ts'
import { blankSheet, type SheetDraft } from './draft.ts'
import { Laps } from './laps.tsx'
import { Tries } from './tries.tsx'
import './paper.css'

/** Paper: the sheets to print before they are needed, and what was written on them, typed in as what it is. */
export function PaperScreen({ house }: { house: House }) {
  return (
    <Shell house={house} screen={words.paper.title} roles={['station', 'supervisor']}>
      {() => {
        const day = house.day.value
        if (!day) return <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
        return (
          <div class="stack">
            <p>
              <a href={`/sheets/days/${day.dayId}/paper`}>{words.paper.print}</a>
            </p>
            <p>{words.paper.help}</p>
            <Sheet key={day.dayId} house={house} day={day} />
          </div>
        )
      }}
    </Shell>
  )
}

/** The head of one sheet, then its rows. Kept on this tablet as it is typed, through a reload. */
function Sheet({ house, day }: { house: House; day: NonNullable<House['day']['value']> }) {
  const [draft, write] = useDraft<SheetDraft>(`musterbook.paper.${day.dayId}`, blankSheet)
  const change = (changed: Partial<SheetDraft>) => write({ ...draft, ...changed })
  const chosen = day.stations.find(({ stationId }) => stationId === draft.stationId) ?? day.stations[0]
  const view = chosen && house.view<StationView>('station', chosen.stationId).view.value
  // One station's line at a time: over plain HTTP a browser has six to a site.
  useEffect(() => () => chosen && house.view('station', chosen.stationId).close(), [house, chosen?.stationId])
  const number = draft.number.trim()
  const place = stationOfSheet(number, day.date)
  const ofSheet = place === null ? undefined : day.stations[place]
  // Another sheet has another picture, and says of its own equipment.
  const another = (typed: string) => {
    const at = stationOfSheet(typed, day.date)
    const stationId = (at === null ? undefined : day.stations[at]?.stationId) ?? draft.stationId
    change({ number: typed, photoDigest: null, without: [], stationId })
  }
  return (
    <>
      <div class="row fields">
        <Field label={words.paper.sheet} hint={words.paper.sheetHint} value={draft.number} maxLength={20} onInput={another} />
        <Choice
          label={words.paper.writer}
          value={draft.writerId}
          blank={words.paper.writerBlank}
          choices={[...house.staff.value].map(([value, says]) => ({ value, says }))}
          onChange={(writerId) => change({ writerId })}
        />
      </div>
      <Tabs
        label={words.paper.station}
        value={chosen?.stationId ?? ''}
        choices={day.stations.map(({ stationId, name }) => ({ value: stationId, says: name }))}
        onChange={(stationId) => change({ stationId, without: [] })}
      />
      {ofSheet && ofSheet !== chosen && <p role="status">{words.paper.otherStation(number, ofSheet.name)}</p>}
      {view && number !== '' && draft.writerId !== '' ? (
        <div class="split">
          <Rows key={view.stationId} house={house} view={view} draft={draft} />
          <OfTheSheet house={house} view={view} draft={draft} change={change} />
        </div>
      ) : (
        <p role="status">{words.paper.sheetFirst}</p>
      )}
    </>
  )
}

interface OfSheet {
  house: House
  view: StationView
  draft: SheetDraft
}

/** What stands for every row: its picture, and which equipment was used. */
function OfTheSheet({ house, view, draft, change }: OfSheet & { change: (changed: Partial<SheetDraft>) => void }) {
  const take = (picture: File) =>
    keepPhoto(picture).then(
      (photoDigest) => change({ photoDigest }),
      () => sayNo(house, words.evidence.broken, words.evidence.brokenNext),
    )
  return (
    <div class="stack">
      <TakePhoto taken={draft.photoDigest !== null} of={words.paper.photoOf} onTake={(picture) => void take(picture)} />
      {unsentPhotos.value > 0 && <p role="status">{words.evidence.unsent(unsentPhotos.value)}</p>}
      {view.equipmentIds.length > 0 && (
        <fieldset class="stack">
          <legend>{words.paper.equipment}</legend>
          {view.equipmentIds.map((id) => (
            <Tick
              key={id}
              says={id}
              checked={!draft.without.includes(id)}
              onChange={(used) => change({ without: used ? draft.without.filter((one) => one !== id) : [...draft.without, id] })}
            />
          ))}
        </fieldset>
      )}
    </div>
  )
}

function Rows({ house, view, draft }: OfSheet) {
  const { writerId, photoDigest, without } = draft
  const sheet = draft.number.trim()
  const fromPaper = { sheet, writerId: writerId as PersonId, ...(photoDigest && { photoDigest }) }
  const acts = paperActs(
    house,
    view,
    fromPaper,
    view.equipmentIds.filter((id) => !without.includes(id)),
  )
  const told = { house, view, sheet, acts }
  return view.protocol.kind === 'run' ? <Laps {...told} /> : <Tries {...told} />
}
