import { useEffect, useState } from 'preact/hooks'
import { signal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import type { Role } from '@musterbook/vocabulary/people'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import type { HoldKind } from '@musterbook/vocabulary/hold'
import type { HoldId, StudentId, ZoneId } from '@musterbook/vocabulary/ids'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { GiveOut } from '../carried/give-out.tsx'
import type { Outcome } from '../live/api.ts'
import { shown, type House, type Spoken } from '../house/house.ts'
import { unsentPhotos } from '../house/photo-box.ts'
import { problemSays } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Frame } from '../parts/frame/frame.tsx'
import { openSound } from '../parts/hold-notice/alarm.ts'
import { NoSound, SoundOff } from '../parts/hold-notice/sound-off.tsx'
import { RefusalNotice } from '../parts/refusal-notice/refusal-notice.tsx'
import { SaidNotice } from '../parts/said-notice/said-notice.tsx'
import { speakAtHome } from '../words/languages.ts'
import { wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'
import { Cautions } from './cautions.tsx'
import { Enrol } from './enrol.tsx'
import { keepLanguage, keptLanguage } from './kept-language.ts'
import { OwnPin } from './own-pin.tsx'
import { SignOn } from './sign-on.tsx'
import './shell.css'

interface LastSaid {
  what: string
  outcome: Outcome | 'sending'
  at: number
}

/** The last thing this screen told the day, and what was said to it. */
export const lastTold = signal<LastSaid | undefined>(undefined)

/** Tells the day and shows what came of it: nobody wonders whether it was saved, or why not. */
export async function tell<A extends ActName>(
  house: House,
  what: string,
  act: A,
  body: Spoken<A>,
  countersign?: { personId: string; pin: string },
): Promise<Outcome> {
  return showWhat(house, what, house.tell(act, body, countersign))
}

/** The same for what is told to the site and not to the day. */
export async function showWhat(house: House, what: string, told: Promise<Outcome>): Promise<Outcome> {
  const at = house.clock.siteNow()
  lastTold.value = { what, outcome: 'sending', at }
  const outcome = await told
  lastTold.value = { what, outcome, at }
  return outcome
}

export interface ShellProps {
  house: House
  screen: string
  /** Who may work here; somebody else is told so, and where to go. */
  roles: readonly Role[]
  /** The zone where this screen stands, for a hold in two touches; null: everywhere outdoors. */
  zoneId?: string | null
  /** Offered first when stopping a student: those under way or called here. */
  here?: readonly { studentId: string; bib: string | null }[]
  /** This screen has no other language yet: whoever signs on is told so in theirs. */
  englishOnly?: boolean
  /** The screen works without an open day. */
  dayless?: boolean
  /** Nothing of it stands on this device: out of contact it says so. */
  needsSite?: boolean
  /** Holds and stops are heard here, by a `StopNotice`. */
  sounds?: boolean
  /** The screen shows the last answer itself, where the hand that pressed is looking. */
  ownAnswers?: boolean
  /** What goes on here though nobody is signed on, by bib alone: it stays in sight, and no new version takes over meanwhile. */
  underWay?: ComponentChildren
  children: () => ComponentChildren
}

/** Every staff screen: enrolment, sign-on, the frame with its two ways to stop, the last answer, then the screen's own work. */
export function Shell(props: ShellProps) {
  const {
    house,
    screen,
    roles,
    zoneId = null,
    here = [],
    englishOnly = false,
    dayless = false,
    ownAnswers = false,
    needsSite = false,
    underWay,
    sounds = false,
    children,
  } = props
  const session = house.session.value
  const day = house.day.value
  const [signing, setSigning] = useState(false)
  const [stopped, setStopped] = useState<{ who: string; at: number } | undefined>(undefined)
  const personId = session?.person?.personId
  // It opens without the site on a device that has installed nothing, too.
  useEffect(() => (sounds ? openSound() : undefined), [sounds])
  useEffect(() => void loadCard().catch(() => undefined), [])
  useEffect(() => void speakAtHome(englishOnly ? 'en' : keptLanguage(personId)), [personId, englishOnly])
  if (!session?.device || session.device.locked) return <Outside house={house} screen={screen} />

  const person = session.person
  const safety = day ? house.view<SafetyView>('safety').view.value : undefined
  const holds = (safety?.holds ?? []).filter((hold) => !hold.lifted)
  const mayWork = person?.roles.some((role) => roles.includes(role)) ?? false
  const runs = needsSite || runsStation(house)
  const stop = (student: { studentId: string } | { bib: string }) => {
    const studentId = 'studentId' in student ? student.studentId : safety?.bibs[student.bib]
    if (!studentId) return sayNo(house, words.shell.noSuchBib, words.shell.noSuchBibNext)
    const bib = Object.entries(safety?.bibs ?? {}).find(([, one]) => one === studentId)?.[0]
    setStopped({ who: bib ? words.common.bib(bib) : shown(house, studentId, null).name, at: house.clock.siteNow() })
    void tell(house, words.shell.stopped, 'stopStudent', {
      studentId: studentId as StudentId,
      zoneId: zoneId as ZoneId | null,
      reason: 'notSaid',
    })
  }

  return (
    <Frame
      screen={screen}
      place={day ? `${day.title}` : undefined}
      placePrinted={day ? `${day.date}, ${day.siteId}` : undefined}
      now={house.clock.now}
      zone={day?.timeZone ?? 'UTC'}
      contactAgeMs={house.contactAgeMs}
      contactLimitMs={day?.contactAgeMs}
      unsent={house.outbox.unsent}
      person={person ? nameHere(house, person.name) : null}
      onCard={() => void openCard(house)}
      onSignOn={() => setSigning(true)}
      onSignOff={() => void signOff(house)}
      onLanguage={englishOnly ? undefined : (language) => keepLanguage(personId, language)}
      rehearsal={day?.rehearsal}
      speed={house.clock.speed}
      holds={holds.map((hold) => ({
        holdId: hold.holdId,
        kind: hold.kind,
        zone: overZone(hold),
        since: hold.since,
        by: hold.personId ? (house.staff.value.get(hold.personId) ?? hold.personId) : words.shell.byPolicy,
      }))}
      {...(day && {
        stop: { students: here.map((one) => shown(house, one.studentId, one.bib)), others: bibsBut(here, safety), onStop: stop },
      })}
      {...(day && {
        raise: {
          zones: day.zones.map(({ zoneId, name }) => ({ zoneId, name })),
          here: zoneId,
          onRaise: ({ kind, zoneId: over }: { kind: HoldKind; zoneId: string | null }) =>
            void tell(house, words.shell.holdRaised, 'raiseHold', { holdId: newId('hold') as HoldId, kind, zoneId: over as ZoneId | null }),
        },
      })}
      overName={sounds && <SoundOff />}
      caution
    >
      {stopped && !house.forgotten.value && (
        <div class="standing row">
          <p>{words.shell.stopTold(stopped.who, wallClock(stopped.at, day?.timeZone ?? 'UTC'))}</p>
          <Button size="small" onPress={() => void openCard(house)}>
            {words.frame.card}
          </Button>
          <Button size="small" onPress={() => setStopped(undefined)}>
            {words.common.close}
          </Button>
        </div>
      )}
      {!signing && person && (
        <Standing house={house} person={person.name} needing={needsSite ? screen : undefined} onPin={() => setSigning(true)} />
      )}
      {sounds && <NoSound />}
      {person && <Cautions house={house} />}
      {!(ownAnswers && person && person.pin !== 'first' && mayWork && runs && day && !signing) && <LastTold house={house} />}
      {!person && underWay && (
        <section class="locked-under-way" aria-label={words.stopStudent.underWayHere} data-under-way>
          <h2>{words.stopStudent.underWayHere}</h2>
          {underWay}
        </section>
      )}
      {!person || signing ? (
        <SignOn house={house} englishOnly={englishOnly} onDone={() => setSigning(false)} />
      ) : person.pin === 'first' ? (
        <OwnPin house={house} show={showWhat} />
      ) : !mayWork ? (
        <EmptyState says={words.shell.notYours(screen)} help={words.shell.notYoursHelp}>
          <Button onPress={() => setSigning(true)}>{words.shell.someoneElse}</Button>
        </EmptyState>
      ) : !runs ? (
        <EmptyState says={words.shell.noStation} help={words.shell.noStationHelp} />
      ) : !day && !dayless ? (
        <EmptyState says={words.shell.noDay} help={words.shell.noDayHelp} />
      ) : (
        children()
      )}
    </Frame>
  )
}

const loadCard = () => import('./emergency-card.tsx')

/** Over whatever stands here: a hold alone comes over it. */
export async function openCard(house: House): Promise<void> {
  const loaded = await loadCard().catch(() => undefined)
  if (!loaded) return sayNo(house, words.shell.cardNotHere, words.shell.cardNotHereNext)
  loaded.showCard({
    pinned: house.day.peek()?.emergencyCard,
    nameOf: (personId) => house.staff.peek().get(personId) ?? personId,
    askNewest: async () => {
      const heard = await house.api.get<{ card: PinnedEmergencyCard | null }>('/api/emergency-card')
      return heard.said === 'recorded' ? heard.body.card : undefined
    },
  })
}

/** Everybody who wears a bib today, whoever is offered first left out. */
const bibsBut = (here: readonly { bib: string | null }[], safety: SafetyView | undefined): string[] =>
  Object.keys(safety?.bibs ?? {})
    .filter((bib) => !here.some((one) => one.bib === bib))
    .sort((one, other) => Number(one) - Number(other) || one.localeCompare(other))

/** Found out as somebody signs on. What fills up in mid-day is said, and leaves the screen where it is. */
const runsStation = (house: House): boolean => house.outbox.keeps.value && house.storage.state.value !== 'keepsNothing'

/** That no PIN was asked is said as long as it is so. */
const nameHere = (house: House, name: string): string =>
  house.signedOn.value === 'outOfContact' ? `${name} (${words.shell.signedOnAlone})` : name

/** How this device stands to the site, where that changes what may be done here. */
function Standing({ house, person, needing, onPin }: { house: House; person: string; needing: string | undefined; onPin: () => void }) {
  // What keeps nothing must not say that it keeps: that is said above the last answer.
  if (house.lost.value && (needing !== undefined || runsStation(house)))
    return (
      <p class="standing">
        {needing === undefined ? words.shell.aloneStrip : `${words.shell.needsSite(needing)}. ${words.shell.needsSiteHelp}`}
      </p>
    )
  if (!house.pinDue.value) return null
  return (
    <div class="standing row">
      <p>{words.shell.pinDue(person)}</p>
      <Button onPress={onPin}>{words.shell.pinGive}</Button>
    </div>
  )
}

/** Kept here, in the record, or not and why: always at the same place. */
export function LastTold({ house }: { house: House }) {
  const last = lastTold.value
  const troubled = house.outbox.troubled.value
  return (
    <div class="last-told">
      {troubled > 0 && <p class="trouble">{words.shell.troubled(troubled)}</p>}
      {(house.outbox.full.value || !runsStation(house)) && <p class="trouble">{words.shell.keepsNothing}</p>}
      {house.outbox.unsent.value > 0 && <CarryLink house={house} />}
      <RefusedLater house={house} />
      {last && <Said last={last} zone={house.day.value?.timeZone ?? 'UTC'} />}
    </div>
  )
}

/** A tablet that is out of contact for longer than the policy bears may have what it keeps carried. */
function CarryLink({ house }: { house: House }) {
  if ((house.contactAgeMs.value ?? 0) <= (house.day.value?.contactAgeMs ?? Infinity)) return null
  return (
    <p>
      <a href="/carried">{words.shell.carry(house.outbox.unsent.value)}</a>
    </p>
  )
}

/** A tablet had decided it by its copy, and the day as it really stood said no: that is told to whoever stands here. */
function RefusedLater({ house }: { house: House }) {
  const refused = house.outbox.refusedLater.value
  if (refused.length === 0) return null
  const [{ item, refusal }] = refused as [(typeof refused)[number]]
  const what = item.kind === 'act' ? item.act : item.kind
  return (
    <RefusalNotice refusal={{ ...refusal, says: `${words.shell.refusedLater(what)} ${refusal.says}` }}>
      <Button onPress={() => house.outbox.forgetRefused()}>{words.common.close}</Button>
    </RefusalNotice>
  )
}

function Said({ last, zone }: { last: LastSaid; zone: string }) {
  const { what, outcome, at } = last
  if (outcome === 'sending') return <p role="status">{words.shell.sending(what)}</p>
  if (outcome.said === 'recorded') {
    const { version, events } = recordedIn(outcome.body)
    return <SaidNotice said="recorded" what={what} at={at} zone={zone} version={version} review={events.includes('reviewOpened')} />
  }
  const closes = <Button onPress={() => (lastTold.value = undefined)}>{words.common.close}</Button>
  if (outcome.said === 'refused')
    return (
      <RefusalNotice
        refusal={outcome.refusal}
        stands={outcome.refusal.rule === 'screen' ? 'nowhere' : outcome.body === null ? 'kept' : 'recorded'}
      >
        {closes}
      </RefusalNotice>
    )
  if (outcome.said === 'kept') return <SaidNotice said="kept" what={what} at={at} zone={zone} />
  if (outcome.said === 'notKept')
    return (
      <RefusalNotice
        stands="nowhere"
        title={words.shell.notKeptTitle(what)}
        refusal={{
          rule: outcome.said,
          params: {},
          says: words.shell.notKept,
          next: words.shell.notKeptNext,
          who: words.shell.anyone,
        }}
      >
        {closes}
      </RefusalNotice>
    )
  const said =
    outcome.said === 'noContact'
      ? words.shell.notReached
      : outcome.said === 'notSignedOn'
        ? words.shell.locked
        : 'problem' in outcome
          ? problemSays(outcome)
          : ''
  return (
    <RefusalNotice
      stands="nowhere"
      refusal={{
        rule: outcome.said,
        params: {},
        says: said || words.shell.notUnderstood,
        next: words.shell.tryAgain,
        who: words.shell.anyone,
      }}
    >
      {closes}
    </RefusalNotice>
  )
}

/** What an acknowledgement says: where it stands in the record, and which events it became. */
function recordedIn(body: unknown): { version: number | undefined; events: string[] } {
  const { recorded } = (body ?? {}) as { recorded?: { version?: number; events?: { type: string }[] } }
  return { version: recorded?.version, events: recorded?.events?.map((event) => event.type) ?? [] }
}

/** A "no" that this screen itself gives, shown where all others stand. */
export function sayNo(house: House, says: string, next: string): void {
  const refusal = { rule: 'screen', params: {}, says, next, who: words.shell.anyone }
  lastTold.value = { what: '', outcome: { said: 'refused', refusal, body: null }, at: house.clock.siteNow() }
}

async function signOff(house: House): Promise<void> {
  const unsent = house.outbox.unsent.peek() + unsentPhotos.peek()
  if (unsent > 0) return sayNo(house, words.shell.unsentFirst(unsent), words.shell.unsentNext)
  lastTold.value = undefined
  await house.signOff()
}

/** A new id for something this device saw or started. */
export const newId = (kind: string): string => `${kind}.${crypto.randomUUID()}`

/** Before the site is heard, on a device that it does not know yet, and on one that was lost. */
export function Outside({ house, screen }: { house: House; screen: string }) {
  const session = house.session.value
  const locked = session?.device?.locked
  return (
    <Frame
      screen={screen}
      now={house.clock.now}
      zone={house.day.value?.timeZone ?? 'UTC'}
      contactAgeMs={house.contactAgeMs}
      unsent={house.outbox.unsent}
    >
      {locked ? (
        <Locked house={house} by={locked.by} at={locked.at} />
      ) : session ? (
        <Enrol house={house} />
      ) : (
        <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
      )}
    </Frame>
  )
}

/** Whoever found it learns where it belongs, and nothing else. */
function Locked({ house, by, at }: { house: House; by: string; at: number }) {
  const left = house.outbox.unsent.value + house.outbox.troubled.value + unsentPhotos.value
  return (
    <>
      <section class="locked-lost" role="status">
        <h1>{words.shell.lockedLost(by, wallClock(at, house.day.value?.timeZone ?? 'UTC'))}</h1>
        <p>{left > 0 ? words.shell.lockedSending(left) : words.shell.lockedEmpty}</p>
      </section>
      {house.outbox.waiting.value.length > 0 && <Carried house={house} />}
    </>
  )
}

/** Out of reach since it heard its lock, what it alone keeps goes out of it by hand. */
function Carried({ house }: { house: House }) {
  const [part, load] = useState<{ GiveOut: typeof GiveOut } | null>(null)
  useEffect(() => void import('../carried/give-out.tsx').then(load, () => undefined), [])
  return part && <part.GiveOut house={house} />
}
