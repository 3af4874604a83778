import type { StudentFile } from '@musterbook/gateway/student-file'
import type { House } from '../house/house.ts'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

type Day = StudentFile['days'][number]
type Station = Day['record']['stations'][number]

/** One test day as it stands in the record, with what stood before and stands no more. */
export function FileDay({ house, one: { day, record, superseded } }: { house: House; one: Day }) {
  const say = words.records
  const named = new Map(record.stations.map(({ stationId, name }) => [stationId as string, name]))
  const who = (personId: string | null) => (personId ? (house.staff.value.get(personId) ?? personId) : '')
  return (
    <section class="stack">
      <h3>{say.day(day.title, day.date)}</h3>
      <p>
        {day.rehearsal && <strong>{say.rehearsal}. </strong>}
        {say.dayStates[day.state]}. {say.group(record.normGroup.sex, record.normGroup.ageYears)}.
      </p>
      {record.order.length > 0 && <p>{say.order(record.order.map((id) => named.get(id) ?? id).join(', '))}</p>}
      <DataTable<Station>
        caption={say.day(day.title, day.date)}
        captionSpoken
        rows={record.stations}
        rowKey={(station) => station.stationId}
        columns={[
          { key: 'test', head: say.test, names: true, cell: ({ name }) => name },
          { key: 'result', head: say.result, figures: true, cell: ({ result }) => result.says ?? say.noResult },
          { key: 'percentile', head: say.percentile, cell: ({ result }) => [result.placing, result.group].filter(Boolean).join(', ') },
          { key: 'state', head: say.state, cell: ({ result }) => say.states[result.state] },
          {
            key: 'basis',
            head: say.basis,
            cell: ({ protocolId, protocolVersion, result }) =>
              [`${protocolId} ${protocolVersion}`, result.table].filter(Boolean).join('; '),
          },
          {
            key: 'superseded',
            head: say.superseded,
            cell: ({ stationId }) =>
              superseded
                .filter((was) => was.stationId === stationId)
                .map((was) => (
                  <Mark
                    key={was.at}
                    state="notMet"
                    says={say.superseding(
                      `${was.says}, ${was.placing}`,
                      [was.group, was.table].filter(Boolean).join(', '),
                      [say.replacedBy[was.by], who(was.personId), who(was.countersigned)].filter(Boolean).join(', '),
                      wallClock(was.at, day.timeZone),
                    )}
                  />
                )),
          },
        ]}
      />
    </section>
  )
}
