import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { LastTold, sayNo } from '../shell/shell.tsx'
import { FindByBib } from '../shell/find-by-bib.tsx'
import { words } from '../words/words.ts'
import { runActs } from './acts.ts'
import { Headcount } from './headcount.tsx'

/** Whoever ended a run stands here until they were looked over: nobody leaves the track unaccounted. */
export function CoolDown({ house, view, safety }: { house: House; view: StationView; safety: SafetyView }) {
  const acts = runActs(house, view)
  const [first, read] = useState<string | null>(null)
  const scanned = ({ studentId, bib }: { studentId: string; bib: string | null }) => {
    read(studentId)
    if (!safety.coolingDown.some((one) => one.studentId === studentId))
      sayNo(house, words.run.notCoolingDown(bib ?? '?'), words.run.coolDownNoneHelp)
  }
  // Whoever was read stands first: the keys beside them are the ones meant.
  const inOrder = [...safety.coolingDown].sort((one, other) => Number(other.studentId === first) - Number(one.studentId === first))

  return (
    <div class="split">
      <section class="stack" aria-labelledby="cool-down">
        <h2 id="cool-down">{words.run.coolDownTitle}</h2>
        <p>{words.run.coolDownHelp}</p>
        <FindByBib house={house} students={view.students} onFound={scanned} />
        {safety.coolingDown.length === 0 ? (
          <EmptyState says={words.run.coolDownNone} help={words.run.coolDownNoneHelp} />
        ) : (
          <ul class="stack">
            {inOrder.map((one) => (
              <li key={one.studentId} class="cool-down" aria-current={one.studentId === first || undefined}>
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
