import type { RunnerView, StationView, WaveView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import { lapTime } from './figures.ts'
import { Splits } from './splits.tsx'

interface Props {
  house: House
  wave: WaveView
  protocol: StationView['protocol']
  onMore: (studentId: string) => void
}

/** Everybody who started, whatever became of them: state, laps, splits, and what else can be said of one. */
export function Runners({ house, wave, protocol, onMore }: Props) {
  const laps = protocol.kind === 'run' ? protocol.details.track.laps : 0
  return (
    <section class="wave-runners stack" aria-labelledby="runners">
      <h2 id="runners">{words.run.runners}</h2>
      <ul class="runners">
        {wave.runners.map((runner) => {
          const { name, lookAlike } = shown(house, runner.studentId, runner.bib)
          return (
            <li key={runner.studentId} class="runner">
              <span class="runner-bib figures">{runner.bib ?? '?'}</span>
              <span class="runner-who">
                <span dir="auto">{name}</span>
                {lookAlike && <strong>{words.student.lookAlike}</strong>}
                <Mark {...statusOf(runner)} />
              </span>
              <span class="runner-laps figures">
                <strong>{words.run.lapsOf(runner.laps, laps)}</strong>
                {runner.finishMs !== null && <span>{words.run.finishTime(lapTime(runner.finishMs))}</span>}
                {inferredIn(runner) > 0 && <Mark state="review" says={words.run.oneInferred(inferredIn(runner))} />}
              </span>
              <Splits runner={runner} protocol={protocol} />
              <Button label={words.run.moreNamed(runner.bib ?? '?')} onPress={() => onMore(runner.studentId)}>
                {words.run.more}
              </Button>
            </li>
          )
        })}
      </ul>
    </section>
  )
}

const inferredIn = ({ crossings }: RunnerView): number => crossings.filter(({ inferred }) => inferred).length

const marks: Record<RunnerView['status'], State> = {
  running: 'underWay',
  held: 'hold',
  finished: 'done',
  withheld: 'review',
  interrupted: 'hold',
  stopped: 'stopped',
}

function statusOf({ status, finishMs }: RunnerView): { state: State; says: string } {
  if (status === 'finished' && finishMs === null) return { state: 'withdrawn', says: words.run.status.notFinished }
  return { state: marks[status], says: words.run.status[status] }
}
