import type { DayView } from '@musterbook/day/views'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { read, type Live } from '../parts/live.ts'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { Scale } from './scales.ts'

interface Props {
  scales: readonly Scale[]
  chosen: string | null
  now: Live<number>
  day: DayView
  onChoose: (equipmentId: string) => void
  onCheck: () => void
}

/** Which scale, and how much it may be trusted: its last check is always in sight. */
export function ScaleChoice({ scales, chosen, now, day, onChoose, onCheck }: Props) {
  const scale = scales.find(({ equipmentId }) => equipmentId === chosen)
  return (
    <section class="weigh-in-scale" aria-label={words.weighIn.scale}>
      <Tabs
        label={words.weighIn.scale}
        value={chosen ?? ''}
        choices={scales.map(({ equipmentId, name }) => ({ value: equipmentId, says: name }))}
        onChange={onChoose}
      />
      {scale && (
        <>
          <div class="weigh-in-trust">
            {scale.today?.blocked ? (
              <>
                <Mark state="blocked" says={words.weighIn.blocked} />
                <p>{words.weighIn.blockedHelp}</p>
              </>
            ) : scale.today?.lastGoodAt ? (
              <Mark
                state="met"
                says={words.weighIn.lastGood(
                  wallClock(scale.today.lastGoodAt, day.timeZone),
                  shortDuration(read(now) - scale.today.lastGoodAt),
                )}
              />
            ) : (
              <>
                <Mark state="unknown" says={words.weighIn.neverChecked} />
                <p>{words.weighIn.uncheckedHelp}</p>
              </>
            )}
            {scale.dueOn !== null && scale.dueOn < day.date && <Mark state="unknown" says={words.weighIn.calibrationOver(scale.dueOn)} />}
          </div>
          <Button onPress={onCheck}>{words.weighIn.check}</Button>
        </>
      )}
    </section>
  )
}
