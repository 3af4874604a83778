import { keepText } from '../house/kept-text.ts'
import { useState } from 'preact/hooks'
import type { WeighInView } from '@musterbook/day/views/weigh-in'
import { byBib } from '../house/find.ts'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { FindByBib } from '../shell/find-by-bib.tsx'
import { sayNo } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { ScaleCheck } from './scale-check.tsx'
import { ScaleChoice } from './scale-choice.tsx'
import { scalesOf } from './scales.ts'
import { WeighOne } from './weigh-one.tsx'

const kept = 'musterbook.scale'

export function WeighIn({ house, view }: { house: House; view: WeighInView }) {
  const scales = scalesOf(house, view)
  const [scaleId, choose] = useState<string | null>(localStorage.getItem(kept))
  const [studentId, pick] = useState<string | undefined>(undefined)
  const [checking, check] = useState(false)
  const scale = scales?.find(({ equipmentId }) => equipmentId === scaleId)
  const student = view.students.find((one) => one.studentId === studentId)
  const missing = view.students.filter(({ needed, mass }) => needed && mass === null).sort(byBib(house))

  const find = (bib: number) => {
    const found = view.students.find((one) => one.bib === String(bib))
    if (found) pick(found.studentId)
    else sayNo(house, words.weighIn.noSuchBib, words.weighIn.noSuchBibNext)
  }
  if (!scales) return <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
  if (scales.length === 0) return <EmptyState says={words.weighIn.noScales} help={words.weighIn.noScalesHelp} />

  const whichScale = (
    <ScaleChoice
      scales={scales}
      chosen={scaleId}
      now={house.clock.now}
      day={house.day.value!}
      onChoose={(equipmentId) => {
        keepText(kept, equipmentId)
        choose(equipmentId)
        check(false)
      }}
      onCheck={() => check(true)}
    />
  )

  return (
    <div class="stack weigh-in">
      {scale && checking ? (
        <>
          {whichScale}
          <ScaleCheck key={scale.equipmentId} house={house} scale={scale} onDone={() => check(false)} />
        </>
      ) : scale && student ? (
        <WeighOne
          key={student.studentId}
          house={house}
          student={student}
          scale={scale}
          whichScale={whichScale}
          onDone={() => pick(undefined)}
        />
      ) : (
        <div class="weigh-in-desk">
          {scale ? (
            <NumberPad
              label={words.weighIn.bib}
              unit=""
              places={0}
              most={4}
              save={words.weighIn.find}
              listening
              onSave={find}
              head={
                <>
                  {whichScale}
                  <FindByBib house={house} students={view.students} onFound={(one) => pick(one.studentId)} />
                </>
              }
            />
          ) : (
            <>
              {whichScale}
              <EmptyState says={words.weighIn.chooseScale} />
            </>
          )}
          <section class="stack" aria-labelledby="missing">
            <h2 id="missing">{words.weighIn.missing}</h2>
            <p class="figures">{words.weighIn.missingCount(missing.length)}</p>
            <ul class="weigh-in-missing">
              {missing.map((one) => {
                const card = shown(house, one.studentId, one.bib)
                return (
                  <li key={one.studentId}>
                    <StudentCard student={card}>
                      {scale && (
                        <Button size="small" label={`${words.weighIn.weigh} ${card.name}`} onPress={() => pick(one.studentId)}>
                          {words.weighIn.weigh}
                        </Button>
                      )}
                    </StudentCard>
                  </li>
                )
              })}
            </ul>
          </section>
        </div>
      )}
    </div>
  )
}
