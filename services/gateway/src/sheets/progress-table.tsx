import { sayValue, type ScoreUnit } from '@musterbook/stations/units'
import type { ProgressLine } from '../standings.ts'

const verdicts: Record<ProgressLine['progress']['verdict'], string> = {
  clearChange: 'beyond measurement error',
  possibleChange: 'possible, near measurement error',
  noClearChange: 'no clear change beyond measurement error',
  errorNotKnown: 'measurement error of this test is not known here',
  notDirectlyComparable: 'not directly comparable',
}
const directions = { better: 'better', worse: 'less good', same: 'the same' } as const

/** Raw results first, percentiles after them, and a direction only where one may be shown. */
export function ProgressTable({ lines }: { lines: readonly ProgressLine[] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Test</th>
          <th scope="col">Then</th>
          <th scope="col">Now</th>
          <th scope="col">Difference</th>
          <th scope="col">What it says</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ station, first, later, progress, unit }) => (
          <tr key={station}>
            <th scope="row">{station}</th>
            <td>
              {first.says}
              <br />
              {first.placing}, {first.group}
            </td>
            <td>
              {later.says}
              <br />
              {later.placing}, {later.group}
            </td>
            <td>
              {progress.verdict === 'notDirectlyComparable' ? '—' : sayValue(Math.abs(progress.difference), unit as ScoreUnit)}
              {progress.direction && ` ${directions[progress.direction]}`}
            </td>
            <td>
              {verdicts[progress.verdict]}
              {progress.differs.length > 0 && `: different ${progress.differs.join(', ')}`}
              {progress.notes.length > 0 && `; place in the day differs (${first.order}, then ${later.order})`}
              {progress.source && <span class="quiet"> ({progress.source})</span>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
