import type { PublicView } from '@musterbook/day/views/board'
import type { HoldKind } from '@musterbook/vocabulary/hold'
import { Mark, Shape } from '../parts/mark/mark.tsx'
import { read, type Live } from '../parts/live.ts'
import { shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'

/** More than this many waiting bibs cannot be read from across a hall. */
const shownWaiting = 10

/** Every station with the bibs that it calls, largest of all; bibs only, no names, no results, nothing of anybody's health. */
export function Board({ view, now, zone }: { view: PublicView; now: Live<number>; zone: string }) {
  return (
    <div class="board">
      {view.holds.map((hold) => (
        <Hold key={`${hold.zone} ${hold.since}`} hold={hold} now={now} zone={zone} />
      ))}
      <div class="board-heads" aria-hidden="true">
        <span>{words.board.now}</span>
        <span>{words.board.waiting}</span>
      </div>
      <ul class="board-stations">
        {view.queues.map((queue) => (
          <li key={queue.name} class="board-station" data-hold={queue.held || undefined}>
            <div class="board-name">
              <h2>{queue.name}</h2>
              <p class="board-zone">
                <span>{queue.zone}</span> {queue.held && <Mark state="hold" />}
              </p>
            </div>
            <Bibs kind="called" label={words.board.now} bibs={queue.called} none={words.board.nobodyCalled} />
            <Bibs kind="waiting" label={words.board.waiting} bibs={queue.waiting} none={words.board.nobodyWaits} />
            {queue.underWay.length > 0 && <Bibs kind="under-way" label={words.board.underWay} bibs={queue.underWay} none="" />}
          </li>
        ))}
      </ul>
    </div>
  )
}

function Bibs({ kind, label, bibs, none }: { kind: string; label: string; bibs: readonly string[]; none: string }) {
  const shown = kind === 'waiting' ? bibs.slice(0, shownWaiting) : bibs
  return (
    <div class={`board-bibs board-${kind}`}>
      <h3>{label}</h3>
      {bibs.length === 0 ? (
        <p class="board-none">{none}</p>
      ) : (
        <ul aria-live={kind === 'called' ? 'polite' : undefined}>
          {shown.map((bib) => (
            <li key={bib} class="figures">
              {bib}
            </li>
          ))}
          {bibs.length > shown.length && <li class="board-more">{words.board.more(bibs.length - shown.length)}</li>}
        </ul>
      )}
    </div>
  )
}

function Hold({ hold, now, zone }: { hold: PublicView['holds'][number]; now: Live<number>; zone: string }) {
  return (
    <div class="board-hold" role="alert">
      <Shape state="hold" />
      <p>
        <strong>{words.board.hold(overZone(hold))}</strong> <span>{words.raiseHold.kinds[hold.kind as HoldKind]}</span>{' '}
        <span aria-live="off" class="figures">
          {words.common.since(wallClock(hold.since, zone), shortDuration(read(now) - hold.since))}
        </span>
      </p>
      <p>{words.board.holdSays}</p>
    </div>
  )
}
