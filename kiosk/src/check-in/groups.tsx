import { normGroup, sayGroup } from '@musterbook/scoring/norms'
import type { DayView } from '@musterbook/day/views'
import type { NormGroup } from '@musterbook/vocabulary/people'
import { words } from '../words/words.ts'

/** Whose norms each test of the day compares with: the pinned table and its band, as the core looks it up. */
export function Groups({ day, person }: { day: DayView; person: NormGroup }) {
  return (
    <section class="stack check-in-groups" aria-labelledby="groups">
      <h3 id="groups">{words.checkIn.groupsTitle}</h3>
      <dl>
        {day.stations.map(({ stationId, name, protocol }) => {
          const table = day.norms.find(({ test }) => test === protocol.protocolId)
          const group = table && normGroup(table, person)
          return (
            <div key={stationId}>
              <dt>{name}</dt>
              <dd>{table && group ? words.checkIn.group(sayGroup(group), table.id, table.invented) : words.checkIn.noGroup}</dd>
            </div>
          )
        })}
      </dl>
      <p class="quiet">
        {words.checkIn.ageOnDay(person.ageYears)}. {words.checkIn.groupsHelp}
      </p>
    </section>
  )
}
