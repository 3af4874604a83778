import { useEffect, useRef, useState } from 'preact/hooks'
import { raceTime } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Mark } from '../mark/mark.tsx'
import './stopwatch.css'

export interface Timed {
  /** On the device's steady clock. */
  startedMs: number
  stoppedMs: number
  elapsedMs: number
  splitsMs: readonly number[]
}

export interface StopwatchProps {
  /** The steady clock of the device (`clock.steady`): a wall clock may be set while somebody runs. */
  steady: () => number
  /** Decimals of a second that count here: what is shown is what would be read. */
  places: 1 | 2
  onStart?: ((startedMs: number) => void) | undefined
  onSplit?: ((elapsedMs: number) => void) | undefined
  onStop: (timed: Timed) => void
  splits?: boolean | undefined
  /** Running already, on this device: taken up again after an interruption. */
  startedMs?: number | undefined
}

/** One large key to start and stop, taken at the touch and not at its release, and digits that do not jump about. */
export function Stopwatch({ steady, places, onStart, onSplit, onStop, splits = false, startedMs }: StopwatchProps) {
  const [started, setStarted] = useState(startedMs)
  const [splitsMs, setSplits] = useState<readonly number[]>([])
  const [stopped, setStopped] = useState<Timed | undefined>(undefined)

  const start = () => {
    const at = steady()
    setStopped(undefined)
    setSplits([])
    setStarted(at)
    onStart?.(at)
  }
  const stop = () => {
    if (started === undefined) return
    const at = steady()
    const timed = { startedMs: started, stoppedMs: at, elapsedMs: at - started, splitsMs }
    setStarted(undefined)
    setStopped(timed)
    onStop(timed)
  }
  const split = () => {
    if (started === undefined) return
    const elapsed = steady() - started
    setSplits([...splitsMs, elapsed])
    onSplit?.(elapsed)
  }
  const running = started !== undefined

  return (
    <div class="watch" role="group" aria-label={words.stopwatch.label}>
      <div class="watch-display">
        <Mark state={running ? 'underWay' : stopped ? 'done' : 'waiting'} says={stateWords(running, stopped)} />
        <output class="watch-digits" aria-live="off">
          {running ? <Ticking since={started} steady={steady} places={places} /> : said(stopped?.elapsedMs ?? 0, places)}
        </output>
      </div>
      <div class="watch-keys">
        <TouchKey kind={running ? 'running' : 'primary'} onTouch={running ? stop : start}>
          {running ? words.stopwatch.stop : words.stopwatch.start}
        </TouchKey>
        {splits && running && <TouchKey onTouch={split}>{words.stopwatch.split}</TouchKey>}
      </div>
      {splitsMs.length > 0 && (
        <ol class="watch-splits figures" aria-label={words.stopwatch.splits}>
          {splitsMs.map((elapsed, i) => (
            <li key={i}>{said(elapsed, places)}</li>
          ))}
        </ol>
      )}
    </div>
  )
}

interface TouchKeyProps {
  children: string
  kind?: 'primary' | 'normal' | 'running'
  onTouch: () => void
}

/** Acts when it is touched. A keyboard has no touch: there the press acts. */
function TouchKey({ children, kind = 'normal', onTouch }: TouchKeyProps) {
  const touched = useRef(false)
  return (
    <button
      type="button"
      class={`button button-${kind} button-key watch-key`}
      onPointerDown={(event) => {
        if (event.button !== 0) return
        touched.current = true
        onTouch()
      }}
      onClick={() => {
        if (!touched.current) onTouch()
        touched.current = false
      }}
    >
      {children}
    </button>
  )
}

function Ticking({ since, steady, places }: { since: number; steady: () => number; places: 1 | 2 }) {
  const [elapsed, setElapsed] = useState(0)
  useEffect(() => {
    const timer = setInterval(() => setElapsed(steady() - since), places === 1 ? 100 : 50)
    return () => clearInterval(timer)
  }, [since, steady, places])
  return <>{said(elapsed, places)}</>
}

function stateWords(running: boolean, stopped: Timed | undefined): string {
  if (running) return words.stopwatch.running
  return stopped ? words.stopwatch.stopped : words.stopwatch.ready
}

const said = (elapsedMs: number, places: 1 | 2) => raceTime(Math.floor(elapsedMs / 10), places)
