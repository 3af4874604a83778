import { sayValue, type ScoreUnit } from '@musterbook/stations/units'
import type { ProgressLine } from '../standings.ts'
import { placingIn, valueIn, type StudentWords } from './student-words.ts'

/** Raw results first, percentiles after them, and a direction only where one may be shown. */
export function ProgressTable({ lines, say }: { lines: readonly ProgressLine[]; say: StudentWords }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{say.test}</th>
          <th scope="col">{say.then}</th>
          <th scope="col">{say.now}</th>
          <th scope="col">{say.difference}</th>
          <th scope="col">{say.whatItSays}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ station, first, later, progress, unit }) => (
          <tr key={station}>
            <th scope="row">{station}</th>
            <td>
              {first.says && valueIn(say, first.says)}
              <br />
              {placingIn(say, first.placing ?? 'no norm')}, {first.group}
            </td>
            <td>
              {later.says && valueIn(say, later.says)}
              <br />
              {placingIn(say, later.placing ?? 'no norm')}, {later.group}
            </td>
            <td>
              {progress.verdict === 'notDirectlyComparable'
                ? '—'
                : valueIn(say, sayValue(Math.abs(progress.difference), unit as ScoreUnit))}
              {progress.direction && ` ${say.directions[progress.direction]}`}
            </td>
            <td>
              {say.verdicts[progress.verdict]}
              {progress.differs.length > 0 ? `: ${say.different} ${progress.differs.join(', ')}` : `; ${say.alike}`}
              {progress.notes.includes('placeInTheDay') && `; ${say.placeInDay(first.order, later.order)}`}
              {progress.notes.includes('heat') && `; ${say.heatDiffers(first.heat ?? say.noReading, later.heat ?? say.noReading)}`}
              {progress.notes.includes('measuredBy') && `; ${say.raterDiffers}`}
              {progress.source && <span class="quiet"> ({progress.source})</span>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
