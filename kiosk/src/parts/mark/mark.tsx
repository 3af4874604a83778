import type { JSX } from 'preact'
import { words } from '../../words/words.ts'
import './mark.css'

export type State = Exclude<keyof typeof words.states, symbol>

/** A state as word, shape and colour. The word is always there; the shapes differ even in black and white. */
export function Mark({ state, says, large }: { state: State; says?: string | undefined; large?: boolean }) {
  return (
    <span class={large ? 'mark mark-large' : 'mark'} data-state={state}>
      <Shape state={state} />
      <span class="mark-word">{says ?? words.states[state]}</span>
    </span>
  )
}

/** The shape alone, for where the word stands beside it already. */
export function Shape({ state }: { state: State }) {
  return (
    <svg class="shape" data-state={state} viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      {shapes[state]}
    </svg>
  )
}

const tick = <path class="shape-cut" d="M6.8 12.4l3.6 3.6 7-7.6" />
const cross = <path class="shape-cut" d="M8 8l8 8M16 8l-8 8" />
const bars = <path class="shape-cut" d="M9 7.5v9M15 7.5v9" />

/** Round: decided well. Square: decided against. Diamond: unknown. Ring: waits. Arrow: moves. Eight corners: stops. */
const shapes: Record<State, JSX.Element> = {
  met: round(tick),
  cleared: round(tick),
  done: round(tick),
  limited: (
    <>
      <path class="shape-line" d="M12 2a10 10 0 1 0 0 20a10 10 0 1 0 0-20z" />
      <path class="shape-body" d="M12 2a10 10 0 0 0 0 20z" />
    </>
  ),
  notMet: square(cross),
  notToday: square(cross),
  withdrawn: square(<path class="shape-cut" d="M7 12h10" />),
  blocked: square(<path class="shape-cut" d="M7 17L17 7" />),
  unknown: diamond(<path class="shape-cut" d="M9.6 9.6c0-3.2 4.8-3 4.8-.2 0 1.8-2.4 1.8-2.4 3.8M12 16.4v.2" />),
  review: diamond(<path class="shape-cut" d="M12 7.2v6M12 16.4v.2" />),
  pending: <path class="shape-line shape-dashed" d="M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18z" />,
  waiting: (
    <>
      <path class="shape-line" d="M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18z" />
      <path class="shape-line" d="M12 7.5V12l3.2 2.2" />
    </>
  ),
  called: <path class="shape-body" d="M3 4h9l9 8-9 8H3l7-8z" />,
  underWay: <path class="shape-body" d="M5 2.5l16 9.5-16 9.5z" />,
  hold: eight(bars),
  stopped: eight(cross),
}

function round(inner: JSX.Element) {
  return (
    <>
      <circle class="shape-body" cx="12" cy="12" r="10.5" />
      {inner}
    </>
  )
}

function square(inner: JSX.Element) {
  return (
    <>
      <rect class="shape-body" x="2" y="2" width="20" height="20" rx="2" />
      {inner}
    </>
  )
}

function diamond(inner: JSX.Element) {
  return (
    <>
      <path class="shape-body" d="M12 .8L23.2 12 12 23.2.8 12z" />
      {inner}
    </>
  )
}

function eight(inner: JSX.Element) {
  return (
    <>
      <path class="shape-body" d="M7.4 1h9.2L23 7.4v9.2L16.6 23H7.4L1 16.6V7.4z" />
      {inner}
    </>
  )
}
