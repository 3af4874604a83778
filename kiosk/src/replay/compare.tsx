import type { ComponentChildren } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import { differences, parting } from '@musterbook/replay/compare'
import { fold, upTo, type Recorded } from '@musterbook/replay/moments'
import type { Imagined } from '@musterbook/replay/what-if'
import { Choice, Field } from '../parts/field/field.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'
import { Moves } from './moves.tsx'
import type { Place } from './replay-screen.tsx'
import { Watermark } from './watermark.tsx'

type Kind = keyof typeof words.replay.compare.sides
interface Side {
  kind: Kind
  entry: string
  /** A clock time of the site on the day, '10:15:07'. */
  time: string
}

/** Two replays side by side, and the first entry at which they part. */
export function Compare({ desk, place, imagined }: { desk: Desk; place: Place; imagined: Imagined | undefined }) {
  const last = String(desk.entries.length)
  const here = desk.entries[(place.position ?? desk.entries.length) - 1]
  const time = here ? wallClock(here.recordedAt, desk.zone, true) : ''
  const [one, setOne] = useState<Side>({ kind: imagined ? 'now' : 'known', entry: String(place.position ?? desk.entries.length), time })
  const [other, setOther] = useState<Side>({ kind: imagined ? 'whatIf' : 'now', entry: last, time })
  const { compare: say } = words.replay
  const recordedOf = ({ kind, entry, time }: Side): Recorded => {
    if (kind === 'recorded' || kind === 'occurred') {
      const at = instantOf(desk, time)
      return at === undefined ? [] : upTo(desk.entries, { by: kind, at })
    }
    return supposedOrKnown(kind, entry)
  }
  const supposedOrKnown = (kind: Kind, entry: string): Recorded =>
    kind === 'whatIf' && imagined
      ? imagined.supposed.map(({ would }) => would)
      : kind === 'known'
        ? desk.entries.slice(0, Math.max(0, Number(entry) || 0))
        : desk.entries
  const found = useMemo(() => {
    const [left, right] = [recordedOf(one), recordedOf(other)]
    return { parts: parting(left, right), moves: differences(fold(desk.dayId, left), fold(desk.dayId, right)) }
  }, [desk, imagined, one.kind, one.entry, one.time, other.kind, other.entry, other.time])
  const sides = (Object.keys(say.sides) as Kind[]).filter((kind) => kind !== 'whatIf' || imagined)
  const choose = (label: string, side: Side, set: (side: Side) => void) => (
    <div class="stack">
      <Choice
        label={label}
        value={side.kind}
        choices={sides.map((value) => ({ value, says: say.sides[value] }))}
        onChange={(kind) => set({ ...side, kind: kind as Kind })}
      />
      {side.kind === 'known' && (
        <Field label={`${say.entry} (${label})`} inputMode="numeric" value={side.entry} onInput={(entry) => set({ ...side, entry })} />
      )}
      {(side.kind === 'recorded' || side.kind === 'occurred') && (
        <Field
          label={`${say.time} (${label})`}
          value={side.time}
          onInput={(time) => set({ ...side, time })}
          error={instantOf(desk, side.time) === undefined ? words.replay.whatIf.unread : undefined}
        />
      )}
    </div>
  )
  const isImagined = one.kind === 'whatIf' || other.kind === 'whatIf'
  return (
    <div class="stack">
      <p>{say.help}</p>
      <div class="supervisor-pair">
        {choose(say.one, one, setOne)}
        {choose(say.other, other, setOther)}
      </div>
      <Around isImagined={isImagined}>
        {found.parts ? (
          <section class="sheet stack" role="status">
            <h2>{say.partsAt(found.parts.at + 1)}</h2>
            <p>{say.has(say.sides[one.kind], found.parts.one === null ? say.nothing : desk.says(found.parts.at) || found.parts.one)}</p>
            <p>
              {say.has(
                say.sides[other.kind],
                found.parts.other === null ? say.nothing : saidThere(desk, recordedOf(other), found.parts.at) || found.parts.other,
              )}
            </p>
          </section>
        ) : (
          <p role="status">{say.same}</p>
        )}
        {found.moves.length === 0 ? (
          <p>{say.none}</p>
        ) : (
          <Moves desk={desk} caption={say.differences} moves={found.moves} before={say.sides[one.kind]} after={say.sides[other.kind]} />
        )}
      </Around>
    </div>
  )
}

const Around = ({ isImagined, children }: { isImagined: boolean; children: ComponentChildren }) =>
  isImagined ? <Watermark>{children}</Watermark> : <>{children}</>

/** A clock time of the site on its day, to the end of that second. */
function instantOf(desk: Desk, time: string): number | undefined {
  const found = /^([01]?\d|2[0-3]):([0-5]\d)(?::([0-5]\d))?$/.exec(time.trim())
  const facts = desk.now.opened?.facts
  if (!found || !facts) return undefined
  const midnight = Date.parse(`${facts.date}T00:00:00Z`) - facts.utcOffsetMinutes * 60_000
  return midnight + ((Number(found[1]) * 60 + Number(found[2])) * 60 + Number(found[3] ?? 59)) * 1000 + 999
}

/** An entry of the record says itself; a supposed one is named by its events alone. */
function saidThere(desk: Desk, recorded: Recorded, at: number): string {
  const entry = recorded[at]
  const place = entry ? desk.entries.findIndex((one) => one === entry) : -1
  return place < 0 ? '' : desk.says(place)
}
