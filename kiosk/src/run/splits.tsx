import type { RunnerView, StationView } from '@musterbook/day/views/station'
import { words } from '../words/words.ts'
import { lapTime } from './figures.ts'
import { ignoredWords } from './last-touches.tsx'

/** Each crossing since the gun, in order; one that is inferred or does not count says so beside its time. */
export function Splits({ runner, protocol }: { runner: RunnerView; protocol: StationView['protocol'] }) {
  const inOrder = [...runner.crossings].sort((one, other) => one.elapsedMs - other.elapsedMs)
  return (
    <ol class="splits figures" aria-label={words.run.laps}>
      {inOrder.map(({ observationId, elapsedMs, inferred, ignored }) => (
        <li key={observationId} class={ignored ? 'split split-ignored' : 'split'}>
          {lapTime(elapsedMs)}
          {inferred && <small>{words.run.inferred}</small>}
          {ignored && <small>{ignoredWords(ignored, protocol)}</small>}
        </li>
      ))}
    </ol>
  )
}
