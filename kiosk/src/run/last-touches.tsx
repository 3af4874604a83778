import type { StationView, WaveView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { figure } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { lapTime } from './figures.ts'
import type { Touch } from './touches.ts'

interface Props {
  house: House
  wave: WaveView
  touches: readonly Touch[]
  protocol: StationView['protocol']
}

/** What became of this tablet's last touches, newest first: in the record, kept here, or ignored and why. Nothing vanishes. */
export function LastTouches({ house, wave, touches, protocol }: Props) {
  const newest = touches.slice(-4).reverse()
  if (newest.length === 0) return <p class="quiet">{words.run.noTouches}</p>
  return (
    <ol class="touches" aria-label={words.run.touches} aria-live="polite">
      {newest.map((touch) => {
        const crossing = wave.runners.flatMap(({ crossings }) => crossings).find((one) => one.observationId === touch.observationId)
        return (
          <li key={touch.observationId} class="touch">
            <strong class="figures">{words.common.bib(touch.bib ?? '?')}</strong>
            <span class="figures">{lapTime(crossing?.elapsedMs ?? touch.elapsedMs)}</span>
            <Mark {...said(touch, crossing?.ignored, protocol, house.outbox.waits(touch.observationId))} />
          </li>
        )
      })}
    </ol>
  )
}

function said(
  { told, lap, line, takenBack }: Touch,
  ignored: WaveView['runners'][number]['crossings'][number]['ignored'] | undefined,
  protocol: StationView['protocol'],
  waits: boolean,
): { state: State; says: string } {
  if (ignored) return { state: 'withdrawn', says: ignoredWords(ignored, protocol) }
  if (takenBack) return { state: 'withdrawn', says: words.run.ignored.takenBack() }
  if (told === 'sending') return { state: 'waiting', says: words.run.sending }
  if (waits) return { state: 'waiting', says: words.run.keptHere }
  if (!stands(told)) return { state: 'notMet', says: told.said === 'notKept' ? words.run.notKept : words.run.notRecorded }
  return { state: 'done', says: line === 'finish' ? words.run.touchFinish : words.run.touchLap(lap) }
}

export function ignoredWords(
  ignored: NonNullable<WaveView['runners'][number]['crossings'][number]['ignored']>,
  protocol: StationView['protocol'],
): string {
  const seconds = protocol.kind === 'run' ? figure(Math.round(protocol.details.minimumLapMs / 1000)) : ''
  return words.run.ignored[ignored](seconds)
}
