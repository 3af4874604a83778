import { useState } from 'preact/hooks'
import type { RunnerView, StationView, WaveView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { words } from '../words/words.ts'
import type { RunActs } from './acts.ts'
import { PutIn } from './put-in.tsx'
import { Splits } from './splits.tsx'
import { isOut } from './touches.ts'

interface Props {
  house: House
  protocol: StationView['protocol']
  wave: WaveView
  runner: RunnerView
  /** Opened to put a lap in. */
  putIn: boolean
  acts: RunActs
  onFinish: () => void
  onClose: () => void
}

/** One runner: what was touched, and what is done more rarely than a lap. */
export function RunnerDialog({ house, protocol, wave, runner, putIn, acts, onFinish, onClose }: Props) {
  const [page, turn] = useState<'all' | 'putIn' | 'why'>(putIn ? 'putIn' : 'all')
  const bib = runner.bib ?? '?'
  const then = (act: () => unknown) => () => {
    void act()
    onClose()
  }
  return (
    <Dialog title={page === 'putIn' ? words.run.inferTitle(bib) : words.run.moreNamed(bib)} open onClose={onClose} wide>
      <div class="stack">
        <StudentCard student={shown(house, runner.studentId, runner.bib)} />
        <Splits runner={runner} protocol={protocol} />
        {page === 'putIn' && <PutIn house={house} wave={wave} runner={runner} acts={acts} onDone={onClose} />}
        {page === 'why' && protocol.kind === 'run' && (
          <div class="row" role="group" aria-label={words.run.whyNotFinished}>
            {protocol.details.didNotFinish.filter(isHere).map((why) => (
              <Button
                key={why}
                size="key"
                onPress={then(() => (why === 'medicalStop' ? acts.stop(runner) : acts.notFinished(runner, wave.official, why)))}
              >
                {words.run.reasons[why] ?? why}
              </Button>
            ))}
          </div>
        )}
        {page === 'all' && (
          <div class="row">
            {isOut(runner) && (
              <>
                <Button size="key" detail={words.run.finishNowHelp} onPress={then(onFinish)}>
                  {words.run.finishNow}
                </Button>
                <Button size="key" onPress={() => turn('why')}>
                  {words.run.notFinished}
                </Button>
              </>
            )}
            <Button size="key" onPress={() => turn('putIn')}>
              {words.run.putIn}
            </Button>
            <Button size="key" kind="stop" onPress={then(() => acts.stop(runner))}>
              {words.run.stop}
            </Button>
          </div>
        )}
      </div>
    </Dialog>
  )
}

/** What a hold ends is never "did not finish": the safety officer's choice says what becomes of those runners. */
const isHere = (why: string): boolean => why !== 'interruptedBySafetyHold'
