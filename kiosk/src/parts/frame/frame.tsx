import type { ComponentChildren } from 'preact'
import { useLayoutEffect, useRef, useState } from 'preact/hooks'
import cross from 'lucide-static/icons/cross.svg?raw'
import hand from 'lucide-static/icons/hand.svg?raw'
import sun from 'lucide-static/icons/sun.svg?raw'
import house from 'lucide-static/icons/house.svg?raw'
import octagonPause from 'lucide-static/icons/octagon-pause.svg?raw'
import type { HoldKind } from '@musterbook/vocabulary/hold'
import type { Language } from '@musterbook/vocabulary/people'
import { theme, wear } from '../../style/theme.ts'
import { figure, minutesAndSeconds, shortDuration, wallClock } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { HoldDialog } from '../hold-dialog/hold-dialog.tsx'
import { LanguageKey } from '../language-choice/language-choice.tsx'
import { HoldStrip, type HoldShown } from '../hold-strip/hold-strip.tsx'
import { Icon } from '../icon/icon.tsx'
import { Shape } from '../mark/mark.tsx'
import { read, type Live } from '../live.ts'
import { StopDialog } from '../stop-dialog/stop-dialog.tsx'
import type { StudentShown } from '../student-card/student-card.tsx'
import './frame.css'

export interface FrameProps {
  /** The screen's name: "Bench press". */
  screen: string
  /** Site and day: "Skarnvale, 11 May 2026". */
  place?: string | undefined
  /** What paper says after it: which day, and where. */
  placePrinted?: string | undefined
  children: ComponentChildren
  /** The site's clock. */
  now: Live<number>
  zone: string
  /** Milliseconds since the site was last heard; nothing while it never was. */
  contactAgeMs: Live<number | undefined>
  /** Older than this counts as out of contact. */
  contactLimitMs?: number | undefined
  /** Acts kept here and not yet in the record. Left out on screens that keep nothing. */
  unsent?: Live<number> | undefined
  /** Who is signed on. Left out on kiosks and boards. */
  person?: string | null | undefined
  onSignOn?: (() => void) | undefined
  onSignOff?: (() => void) | undefined
  /** A rehearsal day, a clock that runs faster: always on screen. */
  rehearsal?: boolean | undefined
  speed?: Live<number> | undefined
  /** Lies over the screen's name: what is said before anything else here, without moving a key. */
  overName?: ComponentChildren
  /** Holds in force, gravest first. */
  holds?: readonly HoldShown[] | undefined
  /** Stop a student in two touches. Left out on kiosks and boards, which have `onCallStaff`. */
  stop?:
    | {
        students: readonly StudentShown[]
        others?: readonly string[]
        onStop: (student: { studentId: string } | { bib: string }) => void
      }
    | undefined
  raise?:
    | {
        zones: readonly { zoneId: string; name: string }[]
        here: string | null
        onRaise: (hold: { kind: HoldKind; zoneId: string | null }) => void
      }
    | undefined
  onCallStaff?: (() => void) | undefined
  /** Opens the site's own emergency card. */
  onCard?: (() => void) | undefined
  /** Another language for this screen. Left out where it has only one. */
  onLanguage?: ((language: Language) => void) | undefined
  /** The usual caution at the foot; on every screen that touches safety. */
  caution?: boolean | undefined
}

/** What stands around every screen: where, who, how old the contact, what is unsent, and the two ways to stop. */
export function Frame(props: FrameProps) {
  const { screen, place, children, zone, contactLimitMs = 60_000, unsent, person, rehearsal, holds = [], stop, raise, onCallStaff } = props
  const [open, setOpen] = useState<'stop' | 'hold' | undefined>(undefined)
  const head = useRef<HTMLElement>(null)
  useLayoutEffect(() => tellHeight(head.current!), [])

  return (
    <div class="frame" data-rehearsal={rehearsal || undefined}>
      <header class="frame-head" ref={head}>
        <div class="frame-top">
          <div class="frame-name">
            <h1>{screen}</h1>
            {place && (
              <p class="frame-place" data-printed={props.placePrinted}>
                {place}
              </p>
            )}
            {props.overName}
          </div>
          <div class="frame-theme">
            {props.onCard && (
              <Button size="small" icon={cross} onPress={props.onCard}>
                {words.frame.card}
              </Button>
            )}
            {props.onLanguage && <LanguageKey onChoose={props.onLanguage} />}
            <ThemeKey />
          </div>
          <Clock now={props.now} zone={zone} />
          <div class="frame-status" role="group" aria-label={words.frame.status}>
            <Contact ageMs={props.contactAgeMs} limitMs={contactLimitMs} />
            {unsent !== undefined && <Unsent count={unsent} />}
            {person !== undefined && <Person person={person} onSignOn={props.onSignOn} onSignOff={props.onSignOff} />}
          </div>
          <div class="frame-keys">
            {onCallStaff && (
              <Button icon={hand} onPress={onCallStaff}>
                {words.frame.callStaff}
              </Button>
            )}
            {raise && (
              <button type="button" class="button frame-hold" onClick={() => setOpen('hold')}>
                <Icon svg={octagonPause} />
                <span class="button-word">{words.frame.raiseHold}</span>
              </button>
            )}
            {stop && (
              <Button kind="stop" icon={hand} onPress={() => setOpen('stop')}>
                {words.frame.stopStudent}
              </Button>
            )}
          </div>
        </div>
        <Banner rehearsal={rehearsal} speed={props.speed} />
        {holds.map((hold) => (
          <HoldStrip key={hold.holdId} hold={hold} now={props.now} zone={zone} />
        ))}
      </header>
      <main class="frame-main">{children}</main>
      {props.caution && (
        <footer class="frame-foot">
          <p class="caution">
            {words.caution.defers} {words.caution.quiet}
          </p>
        </footer>
      )}
      {stop && <StopDialog {...stop} open={open === 'stop'} onClose={() => setOpen(undefined)} />}
      {raise && <HoldDialog {...raise} open={open === 'hold'} onClose={() => setOpen(undefined)} />}
    </div>
  )
}

/** It grows with each hold: what stays in sight beneath it, and what is scrolled to, begins where it ends (`--head`). */
function tellHeight(head: HTMLElement): () => void {
  const watch = new ResizeObserver(() => document.documentElement.style.setProperty('--head', `${head.offsetHeight}px`))
  watch.observe(head)
  return () => watch.disconnect()
}

function Clock({ now, zone }: { now: Live<number>; zone: string }) {
  const at = read(now)
  return (
    <time class="frame-clock" dateTime={new Date(at).toISOString()}>
      <span class="spoken">{words.frame.clock} </span>
      {wallClock(at, zone)}
    </time>
  )
}

/** Silence is shown from the first: an age that nobody sees is a hold that nobody heard. */
function Contact({ ageMs, limitMs }: { ageMs: Live<number | undefined>; limitMs: number }) {
  const age = read(ageMs)
  const stale = age === undefined || age > limitMs
  return (
    <span class="frame-fact" data-alarm={stale || undefined}>
      <Shape state={age === undefined ? 'unknown' : stale ? 'notMet' : 'met'} />
      {age === undefined
        ? words.frame.contactNever
        : stale
          ? words.frame.contactStale(shortDuration(age))
          : words.frame.contact(age < 60_000 ? shortDuration(age) : minutesAndSeconds(age))}
    </span>
  )
}

function Unsent({ count }: { count: Live<number> }) {
  const n = read(count)
  return (
    <span class="frame-fact" data-alarm={n > 0 || undefined}>
      <Shape state={n > 0 ? 'waiting' : 'met'} />
      {words.frame.unsent(n)}
    </span>
  )
}

function Person({ person, onSignOn, onSignOff }: Pick<FrameProps, 'person' | 'onSignOn' | 'onSignOff'>) {
  return (
    <span class="frame-person">
      <span class="frame-fact">{person ? words.frame.signedOn(person) : words.frame.notSignedOn}</span>
      {person && onSignOff && (
        <Button size="small" onPress={onSignOff}>
          {words.frame.signOff}
        </Button>
      )}
      {!person && onSignOn && (
        <Button size="small" onPress={onSignOn}>
          {words.frame.signOn}
        </Button>
      )}
    </span>
  )
}

/** Indoors or outdoors: says what it changes to. */
function ThemeKey() {
  const outdoor = theme.value === 'outdoor'
  return (
    <Button size="small" icon={outdoor ? house : sun} onPress={() => wear(outdoor ? 'indoor' : 'outdoor')}>
      {outdoor ? words.frame.themeIndoor : words.frame.themeOutdoor}
    </Button>
  )
}

function Banner({ rehearsal, speed }: { rehearsal?: boolean | undefined; speed?: Live<number> | undefined }) {
  const times = speed === undefined ? 1 : read(speed)
  if (!rehearsal && times === 1) return null
  return (
    <p class="frame-banner">
      {rehearsal && <strong>{words.frame.rehearsal}</strong>}
      {times !== 1 && <span>{words.frame.speed(figure(times))}</span>}
    </p>
  )
}
