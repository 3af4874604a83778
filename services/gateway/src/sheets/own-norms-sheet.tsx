import { sayValue, type ScoreUnit } from '@musterbook/stations/units'
import type { OwnNorms } from '../own-norms.ts'

/** The site's own records as norms might be made of them: read before anything is adopted. */
export function OwnNormsSheet({ norms }: { norms: readonly OwnNorms[] }) {
  return (
    <>
      <h1>This site’s own records</h1>
      <p>
        Quantiles (type 7) of final results measured in the same way. A percentile stands only where about five people are expected beyond
        it. Nothing here is in force: two people adopt a table before it is.
      </p>
      {norms.map(({ station, unit, days, groups }) => (
        <section key={station}>
          <h2>
            {station}, {days} {days === 1 ? 'day' : 'days'}
          </h2>
          {groups.length === 0 && <p>No final result yet.</p>}
          {groups.length > 0 && (
            <table>
              <thead>
                <tr>
                  <th scope="col">Group</th>
                  <th scope="col">People</th>
                  <th scope="col">Percentile: value (95 % between)</th>
                  <th scope="col">Not published</th>
                </tr>
              </thead>
              <tbody>
                {groups.map(({ sex, ageFrom, ageTo, n, points, refused }) => (
                  <tr key={`${sex}${ageFrom}`}>
                    <th scope="row">
                      {sex}
                      {ageFrom}–{ageTo}
                    </th>
                    <td>{n}</td>
                    <td>
                      {points.length === 0
                        ? 'group too small'
                        : points
                            .map(
                              ({ percentile, value, between }) =>
                                `${percentile}: ${say(value, unit)}${between ? ` (${say(between[0], unit)} to ${say(between[1], unit)})` : ''}`,
                            )
                            .join('; ')}
                    </td>
                    <td>{refused.map(({ percentile, needs }) => `${percentile} needs ${needs}`).join(', ') || 'none'}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </section>
      ))}
    </>
  )
}

/** A quantile lies between two results: to the score's own step, which is as fine as anybody read. */
const say = (value: number, unit: string): string => sayValue(Math.round(value), unit as ScoreUnit)
