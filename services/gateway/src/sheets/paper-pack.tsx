import { encodeQR } from 'qr'
import type { DayView } from '@musterbook/day/views'

interface Props {
  day: DayView
  students: readonly { bib: string | null; name: string }[]
}

const rowsOnSheet = 14
const spareRows = 4

/** For a day without tablets: numbered sheets for each station, to be typed in later as what they are. */
export function PaperPack({ day, students }: Props) {
  const rows = [...students, ...Array.from({ length: spareRows }, () => ({ bib: null, name: '' }))]
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

/** Month and day, the station's place in the day, the sheet: short enough to be said over a radio. */
const sheetNumber = (date: string, place: number, n: number): string => `${date.slice(5).replace('-', '')}-${place + 1}-${n + 1}`

interface SheetProps {
  day: DayView
  station: DayView['stations'][number]
  number: string
  rows: Props['students']
}

function Sheet({ day, station: { name, protocol }, number, rows }: SheetProps) {
  const isRun = protocol.kind === 'run'
  const columns = isRun ? protocol.details.track.laps : protocol.tries
  return (
    <section class="paper-sheet">
      <div class="paper-head">
        <div>
          <h1>{name}</h1>
          <p>
            {day.title}, {day.date}. Sheet <strong>{number}</strong>
          </p>
          <p>Writer (name, signature): ____________________________ Equipment: ______________</p>
          {isRun && <p>Gun, time of day (h:min:s): ______________ Starter: ______________ Official / practice</p>}
        </div>
        <div role="img" aria-label={`Sheet ${number}`} dangerouslySetInnerHTML={{ __html: encodeQR(number, 'svg', { ecc: 'medium' }) }} />
      </div>
      <ol>
        {protocol.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <p>
        <strong>Stop when:</strong> {protocol.stopWhen.join(' · ')} <strong>Tell:</strong> {protocol.tellWhom}
      </p>
      <p>
        Anybody may stop at any time. A hold is called by voice, whistle and radio: nobody starts outdoors before the safety officer has
        said so, and their words are written here with the time. {protocol.cautions.join(' ')}
      </p>
      <table>
        <thead>
          <tr>
            <th>Bib</th>
            <th>Name</th>
            {Array.from({ length: columns }, (_, index) => (
              <th key={index}>
                {isRun ? (index + 1 === columns ? 'Finish' : `Lap ${index + 1}`) : `Try ${index + 1}: value, time of day`}
              </th>
            ))}
            <th>Notes: stopped, practice, fault</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ bib, name }, index) => (
            <tr key={index}>
              <td>{bib}</td>
              <td>{name}</td>
              {Array.from({ length: columns }, (_, column) => (
                <td key={column} />
              ))}
              <td />
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet">
        Write what was read, in the unit of the station, with the time of day. Nothing is rubbed out: strike through once, write beside it,
        sign. Keep this sheet.
      </p>
    </section>
  )
}
