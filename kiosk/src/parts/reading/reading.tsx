import { shortDuration, wallClock } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { read, type Live } from '../live.ts'
import { Mark } from '../mark/mark.tsx'
import './reading.css'

interface ReadingShown {
  /** "WBGT" */
  name: string
  /** As it is to be said: "27.1 °C". */
  value: string
  readAt: number
  place: string
  instrument: string
  by?: string | undefined
  settled?: boolean | undefined
  /** Band of the adopted policy, by its own name. */
  band?: string | undefined
}

export interface ReadingProps {
  reading: ReadingShown | undefined
  now: Live<number>
  zone: string
  /** Older than this the state is unknown. */
  limitMs?: number | undefined
}

/** A number never stands without its age, place and instrument. */
export function Reading({ reading, now, zone, limitMs }: ReadingProps) {
  if (!reading)
    return (
      <div class="reading" data-stale>
        <Mark state="unknown" says={words.reading.none} large />
      </div>
    )
  return <Aged reading={reading} now={now} zone={zone} limitMs={limitMs} />
}

function Aged({ reading, now, zone, limitMs }: ReadingProps & { reading: ReadingShown }) {
  const age = read(now) - reading.readAt
  const stale = limitMs !== undefined && age > limitMs
  return (
    <div class="reading" data-stale={stale || undefined}>
      <p class="reading-head">
        <span class="reading-name">{reading.name}</span>
        <span class="reading-value figures">{reading.value}</span>
        {reading.band && <span class="reading-band">{reading.band}</span>}
      </p>
      <p class="reading-line figures">
        {words.reading.line(shortDuration(age), reading.place, reading.instrument)}
        {reading.by && `, ${words.reading.by(reading.by)}`} ({wallClock(reading.readAt, zone)})
      </p>
      {stale && <Mark state="unknown" says={words.reading.stale(shortDuration(limitMs))} />}
      {reading.settled === false && <Mark state="unknown" says={words.reading.notSettled} />}
    </div>
  )
}
