import { happenedAt } from '@musterbook/vocabulary/envelope'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'

const row = 28
const width = 640

/** Each instant as a bar as wide as its ± band: where bars overlap, nobody can say which came first. */
export function Bands({ desk, places }: { desk: Desk; places: readonly number[] }) {
  const marks = places.map((place) => {
    const { meta } = desk.entries[place]!
    return { place, at: happenedAt(meta), band: meta.bandMs }
  })
  const from = Math.min(...marks.map(({ at, band }) => at - band))
  const until = Math.max(...marks.map(({ at, band }) => at + band))
  const x = (at: number) => 8 + ((at - from) / Math.max(1, until - from)) * (width - 16)
  return (
    <figure class="replay-bands">
      <figcaption>{words.replay.bands}</figcaption>
      <svg viewBox={`0 0 ${width} ${marks.length * row}`} aria-hidden="true" focusable="false">
        {marks.map(({ place, at, band }, line) => (
          <g key={place} class={line === 0 ? 'replay-band replay-band-here' : 'replay-band'}>
            <rect x={x(at - band)} y={line * row + 6} width={Math.max(3, x(at + band) - x(at - band))} height={row - 12} />
            <line x1={x(at)} x2={x(at)} y1={line * row + 2} y2={line * row + row - 2} />
          </g>
        ))}
      </svg>
      <ol>
        {marks.map(({ place, at, band }) => (
          <li key={place}>
            <span class="figures">{words.replay.band(wallClock(at, desk.zone, true), `${band} ms`)}</span> <bdi>{desk.says(place)}</bdi>
          </li>
        ))}
      </ol>
    </figure>
  )
}
