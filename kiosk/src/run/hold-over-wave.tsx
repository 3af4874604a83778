import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView, WaveView } from '@musterbook/day/views/station'
import { Shape } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import { reaches } from '../shell/stop-notice.tsx'

/** Stays above the pad while a hold is in force over a wave that is out. The keys below go on working. */
export function HoldOverWave({ safety, view, wave }: { safety: SafetyView; view: StationView; wave: WaveView }) {
  const hold = safety.holds.find((one) => !one.lifted && reaches(one, view.zoneId, safety.zones))
  if (!hold || (!wave.open && !wave.runners.some(({ status }) => status === 'interrupted'))) return null
  const ids = wave.runners.map(({ attemptId }) => attemptId)
  const isUncertain = hold.underWay.some((one) => one.orderNotCertain && ids.includes(one.attemptId))
  const { disposition } = hold
  return (
    <div class="wave-hold" role="alert">
      <Shape state="hold" />
      <p>
        <strong>{words.run.stopTheWave}</strong>
        {isUncertain && <span>{words.run.orderNotCertain}</span>}
        <span>{disposition ? words.run.chosen[disposition as keyof typeof words.run.chosen] : words.run.notChosen}</span>
        <span>{words.run.stopTheWaveHelp}</span>
      </p>
    </div>
  )
}
