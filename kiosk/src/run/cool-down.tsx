import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { LastTold } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { runActs } from './acts.ts'
import { Headcount } from './headcount.tsx'

/** Whoever ended a run stands here until they were looked over: nobody leaves the track unaccounted. */
export function CoolDown({ house, view, safety }: { house: House; view: StationView; safety: SafetyView }) {
  const acts = runActs(house, view)
  return (
    <div class="split">
      <section class="stack" aria-labelledby="cool-down">
        <h2 id="cool-down">{words.run.coolDownTitle}</h2>
        <p>{words.run.coolDownHelp}</p>
        {safety.coolingDown.length === 0 ? (
          <EmptyState says={words.run.coolDownNone} help={words.run.coolDownNoneHelp} />
        ) : (
          <ul class="stack">
            {safety.coolingDown.map((one) => (
              <li key={one.studentId} class="cool-down">
                <StudentCard student={shown(house, one.studentId, one.bib)} />
                <div class="row" role="group" aria-label={words.run.lookOver(one.bib ?? '?')}>
                  <Button onPress={() => void acts.lookedOver(one, 'nothingSeen')}>{words.run.nothingSeen}</Button>
                  <Button
                    onPress={() => {
                      void acts.lookedOver(one, 'referred')
                      void acts.refer(one)
                    }}
                  >
                    {words.run.referred}
                  </Button>
                </div>
              </li>
            ))}
          </ul>
        )}
      </section>
      <div class="stack">
        <LastTold house={house} />
        <Headcount house={house} safety={safety} zoneId={view.zoneId} zone={view.zone} />
      </div>
    </div>
  )
}
