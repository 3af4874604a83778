import { encodeQR } from 'qr'
import type { DayView } from '@musterbook/day/views'
import type { Protocol } from '@musterbook/stations/protocol'
import { sitesOf } from '@musterbook/stations/skinfold'
import { partsOf } from '@musterbook/stations/units'
import { foldColumns, sheetNumber, writtenCodes } from '@musterbook/stations/written-codes'
import { plain } from './measured-words.ts'

interface Row {
  bib: string | null
  name: string
  /** Of the norm group: it says which folds are read. Null on a spare row. */
  sex: 'M' | 'W' | null
}

interface Props {
  day: DayView
  students: readonly Row[]
}

const rowsOnSheet = 9
const spareRows = 4
const spare: Row = { bib: null, name: '', sex: null }

/** For a day without tablets: numbered sheets for each station, to be typed in later as what they are. Every field of a sheet is one of the screen's. */
export function PaperPack({ day, students }: Props) {
  const rows = [...students, ...Array.from({ length: spareRows }, () => spare)]
  const pages = Array.from({ length: Math.ceil(rows.length / rowsOnSheet) }, (_, n) => rows.slice(n * rowsOnSheet, (n + 1) * rowsOnSheet))
  return (
    <>
      {day.stations.flatMap((station, place) =>
        pages.map((onPage, n) => (
          <Sheet key={`${place} ${n}`} day={day} station={station} number={sheetNumber(day.date, place, n)} rows={onPage} />
        )),
      )}
    </>
  )
}

interface SheetProps {
  day: DayView
  station: DayView['stations'][number]
  number: string
  rows: readonly Row[]
}

function Sheet({ day, station: { name, protocol, equipmentIds }, number, rows }: SheetProps) {
  const columns = columnsOf(protocol)
  return (
    <section class="paper-sheet">
      <div class="paper-head">
        <div>
          <h1>{name}</h1>
          <p>
            {day.title}, {day.date}. Sheet <strong>{number}</strong>
          </p>
          <p>
            Writer (name, signature): ______________________________{' '}
            {equipmentIds.length > 0 && `Used: ${equipmentIds.map((id) => `☐ ${id}`).join('  ')}`}
          </p>
          {protocol.kind === 'run' && <p>Gun, time of day (h:min:s): ______________ ☐ official ☐ practice</p>}
        </div>
        <div role="img" aria-label={`Sheet ${number}`} dangerouslySetInnerHTML={{ __html: encodeQR(number, 'svg', { ecc: 'medium' }) }} />
      </div>
      <p class="paper-small">{protocol.steps.join(' ')}</p>
      <p class="paper-small">
        <strong>Stop when:</strong> {protocol.stopWhen.join(' · ')} <strong>Tell:</strong> {protocol.tellWhom} Anybody may stop at any time.
        A hold is called by voice, whistle and radio: nobody starts outdoors before the safety officer has said so, and their words are
        written on the back with the time. {protocol.cautions.join(' ')}
      </p>
      <table>
        <thead>
          <tr>
            <th class="paper-name">Name (fold back for a photo)</th>
            <th class="paper-bib">Bib</th>
            {columns.map((head) => (
              <th key={head}>{head}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <tr key={index}>
              <td class="paper-name">{row.name}</td>
              <td>{row.bib}</td>
              <Cells protocol={protocol} row={row} />
            </tr>
          ))}
        </tbody>
      </table>
      <Codes protocol={protocol} />
      <p class="paper-small">
        Write what was read, in the unit of the station, with the time of day (h:min:s). Nothing is rubbed out: strike through once, write
        beside it, sign. Keep this sheet.
      </p>
    </section>
  )
}

function columnsOf(protocol: Protocol): string[] {
  if (protocol.kind === 'run') {
    const { laps } = protocol.details.track
    return [...Array.from({ length: laps }, (_, n) => (n + 1 === laps ? 'Finish (min:s)' : `Lap ${n + 1}`)), 'Ended before']
  }
  if (protocol.kind === 'skinfold')
    return [...Array.from({ length: sitesHere(protocol, 'M').length }, (_, n) => `Site ${n + 1}, mm`), 'Whole row']
  const read = protocol.kind === 'loaded' ? 'load' : 'value'
  const { sign } = partsOf(protocol.unit)
  return Array.from({ length: protocol.tries }, (_, n) => `Try ${n + 1}: ${read}${sign && `, ${sign}`}`)
}

/** Every equation reads as many folds of men as of women. */
const sitesHere = (protocol: Protocol, sex: 'M' | 'W') => (protocol.kind === 'skinfold' ? sitesOf(protocol.details.equation, sex) : [])

/** When, what instead of a value, and whether it was for practice: under each try, or once a row. */
const underTry = 'at\u00a0________ code\u00a0____ ☐\u00a0practice'

function Cells({ protocol, row: { sex } }: { protocol: Protocol; row: Row }) {
  if (protocol.kind === 'skinfold')
    return (
      <>
        {sitesHere(protocol, sex ?? 'M').map((site) => (
          <td key={site}>
            <span class="paper-under">{sex ? plain(site) : 'site ______________'}</span>
            <span class="paper-under paper-fill">{Array.from({ length: foldColumns }, (_, n) => `${n + 1}: ________`).join(' ')}</span>
          </td>
        ))}
        <td class="paper-try">
          <span class="paper-under">{underTry}</span>
        </td>
      </>
    )
  if (protocol.kind === 'run')
    return (
      <>
        {Array.from({ length: protocol.details.track.laps }, (_, n) => (
          <td key={n} />
        ))}
        <td class="paper-try">
          <span class="paper-under">code ____ at ____________</span>
        </td>
      </>
    )
  return (
    <>
      {Array.from({ length: protocol.tries }, (_, n) => (
        <td key={n} class="paper-try">
          <span class="paper-under">{underTry}</span>
        </td>
      ))}
    </>
  )
}

const codeSays = { foul: 'voids the try', noLift: 'no lift', noFaultRerun: 'nobody’s fault, again', didNotFinish: 'not finished' } as const

function Codes({ protocol }: { protocol: Protocol }) {
  const codes = writtenCodes(protocol)
  return (
    <p class="paper-small">
      <strong>Codes, where no value stands:</strong>{' '}
      {codes.map(({ code, outcome, fault }) => (
        <span key={code}>
          <b class="paper-code">{code}</b> {fault === null ? `${codeSays[outcome]}:` : plain(fault)}{' '}
        </span>
      ))}
    </p>
  )
}
