import { useState } from 'preact/hooks'
import type { MedicalView } from '@musterbook/day/views/medical'
import type { Limit } from '@musterbook/vocabulary/clearance'
import type { ClearanceId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { Tick } from '../parts/field/field.tsx'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { keyOf, limitsOf, sayLimit } from './limits.ts'
import type { About } from './student-file.tsx'

/** One touch for cleared or not today; two and the limits for limited. A gate applies each limit by itself, and knows no reason. */
export function Decide({ house, student, studentId, who, view }: About & { view: MedicalView }) {
  const stands = (student.clearance.clearanceId as ClearanceId | null) ?? null
  // What stood when the form was opened: a clearance that arrives while limits are being chosen was not decided upon.
  const [limiting, limit] = useState<{ seen: ClearanceId | null } | undefined>(undefined)
  const [limits, choose] = useState<readonly Limit[]>([])
  const [wrong, setWrong] = useState(false)
  const record = async (status: 'cleared' | 'limited' | 'notToday', chosen: readonly Limit[]) => {
    const said = await tell(house, words.medical.recordedSaid(who, words.medical[status]), 'recordClearance', {
      clearanceId: newId('clearance') as ClearanceId,
      studentId,
      status,
      limits: [...chosen],
      supersedes: status === 'limited' && limiting ? limiting.seen : stands,
    })
    if (said.said !== 'recorded') return
    limit(undefined)
    choose([])
  }
  const turn = (one: Limit, isIn: boolean) => choose(isIn ? [...limits, one] : limits.filter((other) => keyOf(other) !== keyOf(one)))

  return (
    <section class="stack" aria-labelledby="decide">
      <h3 id="decide">{words.medical.decide}</h3>
      <div class="row medical-keys">
        <Button kind="primary" size="key" detail={words.medical.clearedDetail} onPress={() => void record('cleared', [])}>
          {words.medical.cleared}
        </Button>
        <Button size="key" pressed={limiting !== undefined} onPress={() => limit(limiting ? undefined : { seen: stands })}>
          {words.medical.limited}
        </Button>
        <Button size="key" onPress={() => void record('notToday', [])}>
          {words.medical.notToday}
        </Button>
      </div>
      {limiting && (
        <fieldset class="stack medical-limits">
          <legend class="tabs-label">{words.medical.limitsTitle}</legend>
          <p>{words.medical.limitsHelp}</p>
          {limitsOf(view).map((one) => (
            <Tick
              key={keyOf(one)}
              says={sayLimit(one, view)}
              checked={limits.some((other) => keyOf(other) === keyOf(one))}
              onChange={(isIn) => turn(one, isIn)}
            />
          ))}
          {wrong && limits.length === 0 && (
            <p role="alert" class="trouble">
              {words.medical.chooseLimit}
            </p>
          )}
          <div class="row">
            <Button kind="primary" size="key" onPress={() => (limits.length === 0 ? setWrong(true) : void record('limited', limits))}>
              {words.medical.saveLimits}
            </Button>
          </div>
        </fieldset>
      )}
    </section>
  )
}
