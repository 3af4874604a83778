import { computed, effect, signal, type ReadonlySignal, type Signal } from '@preact/signals'
import { actTable, observations, type ActName } from '@musterbook/vocabulary/act-table'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { By } from '@musterbook/vocabulary/envelope'
import type { DayId, PersonId } from '@musterbook/vocabulary/ids'
import type { Equipment } from '@musterbook/vocabulary/office-events'
import type { Refusal } from '@musterbook/vocabulary/refusals'
import type { TakeReading } from '@musterbook/vocabulary/site'
import type { DayView, ViewName } from '@musterbook/day/views'
import type { PersonOnDay } from '@musterbook/gateway/routes/people'
import type { SessionAnswer } from '@musterbook/gateway/routes/session'
import { openApi, type Api, type Outcome } from '../live/api.ts'
import { openClock, type Clock, type Remembered } from '../live/clock.ts'
import { contactAge } from '../live/contact.ts'
import { follow, type LiveView } from '../live/live.ts'
import { applyRow, rowDifferences } from '../live/row.ts'
import type { StudentShown } from '../parts/student-card/student-card.tsx'
import { openAlone } from './alone.ts'
import { openCopy } from './copy.ts'
import { currentDay } from './current-day.ts'
import { keepText } from './kept-text.ts'
import { openForgetting } from './forgetting.ts'
import { forget, keepFact, keptFacts, usualDeviceHours, type SignedOn, type SignedOnHere } from './facts.ts'
import { openOutbox, type Outbox } from './outbox.ts'
import { openRegister } from './register.ts'
import { openSignedOn } from './signed-on.ts'
import { openStorage, type Storage } from './storage.ts'
import { photosCounted, unsentPhotos } from './photo-box.ts'
import { openStore } from './store.ts'
import { followVersions } from './versions.ts'

/** A body as it goes over the wire: what a person typed is plain text there, and sealed behind it. */
export type Spoken<A extends ActName> = {
  [Field in keyof BodyOf<A>]: Field extends 'reason' | 'words' | 'acceptedBecause' | 'earlyBecause' | 'acceptOpenReviews'
    ? string | Extract<BodyOf<A>[Field], null>
    : BodyOf<A>[Field]
}

/** What every screen stands in: this device, who is signed on, the day, its people, and the way to tell it something. */
export interface House {
  clock: Clock
  api: Api
  outbox: Outbox
  /** undefined until first heard. */
  session: ReadonlySignal<SessionAnswer | undefined>
  refreshSession(): Promise<void>
  day: ReadonlySignal<DayView | undefined>
  days: ReadonlySignal<readonly DayView[]>
  chooseDay(dayId: string): void
  /** Students of the day by id: name, bib-less; screens put the bib beside it. */
  students: ReadonlySignal<ReadonlyMap<string, PersonOnDay>>
  /** Names of staff by id. */
  staff: ReadonlySignal<ReadonlyMap<string, string>>
  /** The register of equipment; undefined until it was heard, here or before. */
  equipment(): ReadonlySignal<readonly Equipment[] | undefined>
  /** A live view of the day, opened once and shared; once closed, opened anew when it is asked for. */
  view<View>(name: ViewName, key?: string): LiveView<View>
  contactAgeMs: ReadonlySignal<number | undefined>
  /** The site is out of reach: this device stands by itself. */
  lost: ReadonlySignal<boolean>
  /** How the person here signed on: by a PIN, or chosen from those who had been here; null while nobody is. */
  signedOn: ReadonlySignal<SignedOn>
  /** The site asks for the PIN of who works here; what they do meanwhile is told all the same. */
  pinDue: ReadonlySignal<boolean>
  storage: Storage
  /** The day's hours passed without the site: nothing of the day is here any more but what waits to be told. */
  forgotten: ReadonlySignal<boolean>
  /** Who may sign on here without contact. */
  mayReturn(): readonly SignedOnHere[]
  signOnOutOfContact(person: SignedOnHere): void
  signOff(): Promise<void>
  /** A heat reading goes to the site; out of contact it is kept, and no start rests on it before the site has it. */
  takeReading(reading: TakeReading): Promise<Outcome>
  /**
   * Tells the day. An observation is kept on this device first and is never lost. A permission is asked of the site; out
   * of contact this device decides it by the same rules on its copy, says no where it may not, and tells of it later.
   */
  tell<A extends ActName>(act: A, body: Spoken<A>, countersign?: { personId: string; pin: string }): Promise<Outcome>
  /** Tells what paper saw: it happened at the written time and is kept on this device before anything is sent. */
  tellWritten<A extends ActName>(act: A, body: Spoken<A>, written: { at: number; bandMs: number }): Promise<Outcome>
}

const urgent: readonly ActName[] = ['stopStudent', 'raiseHold', 'acknowledgeHold', 'refer']
/** The site sends a beat every ten seconds: two that stay away are no contact. */
const silentMs = 25_000
/** The site's own pictures follow its entries by so much. */
const viewsFollowMs = 1_500

/** `standsAlone: false`: a screen that needs the site keeps no copy of the day. */
export function openHouse({ standsAlone: mayStandAlone = true } = {}): House {
  const store = openStore()
  const facts = keptFacts(store)
  const clock = openClock({ remembered: rememberedClock() })
  clock.run()
  const measured = clock.measure().then(() => rememberClock(clock))
  const days: Signal<readonly DayView[]> = signal([])
  const chosen = signal(new URLSearchParams(location.search).get('day') ?? undefined)
  const students: Signal<ReadonlyMap<string, PersonOnDay>> = signal(new Map())
  const staff: Signal<ReadonlyMap<string, string>> = signal(new Map())
  const views = new Map<string, LiveView<unknown>>()
  const opened = signal<readonly LiveView<unknown>[]>([])
  const lost = signal(!navigator.onLine)
  const hidden = signal(document.visibilityState === 'hidden')
  const copy = openCopy(store)
  const streams = computed(() => [...opened.value, ...(copy.live.value ? [copy.live.value] : [])])
  const contactAgeMs = contactAge(clock, streams, Number(localStorage.getItem(heardKey)) || undefined)

  const dayId = computed(() => chosen.value ?? currentDay(days.value)?.dayId)
  const api = openApi({
    clock,
    nextSequence,
    seenVersion: () => Math.max(alone.version.peek(), ...[...views.values()].map((view) => Number(view.version.peek() ?? 0))),
    contactAgeMs: () => Math.max(0, contactAgeMs.peek() ?? 0),
    fetch: heardBy((isHeard) => (lost.value = !isHeard)),
  })
  const people = openSignedOn(
    {
      lost,
      siteTime: async () => (await measured, clock.siteNow()),
      remember: (name, fact) => void keepFact(store, name, fact),
      rememberHere: (here) => void keepFact(store, 'signedOnHere', here),
    },
    facts,
  )
  const { session } = people
  const equipment = openRegister({ api, store, facts, lost, person: computed(() => session.value?.person?.personId) })
  const isLocked = computed(() => session.value?.device?.locked != null)
  const takesCopy = computed(() => mayStandAlone && session.value?.device?.purpose === 'staff' && !isLocked.value)
  const caughtUp = computed(() => !lost.value && (copy.caughtUp.value || !takesCopy.value))
  const outbox = openOutbox({ store, api, lost, caughtUp })
  const alone = openAlone(copy, outbox)
  const storage = openStorage(store)
  const standsAlone = lingering(
    computed(() => alone.ready.value && (lost.value || people.pinDue.value || outbox.waiting.value.some((kept) => kept.alone))),
  )

  const view = <View>(name: ViewName, key = 'all'): LiveView<View> => {
    const path = `/api/days/${dayId.peek()}/live/${name}/${key}`
    const known = views.get(path)
    if (known) return known as LiveView<View>
    const live = follow<View>(name, {
      path: () => `${path}?differences=patch`,
      apply: applyRow,
      differences: rowDifferences,
      // Over HTTP/1.1 a browser has six lines to a site, for all its pages. What calls people to act is followed all the same.
      ...(name !== 'safety' && { resting: hidden }),
    })
    const shown = computed(() => (standsAlone.value && (alone.draw(name, key) as View | null)) || live.view.value)
    const close = () => {
      live.close()
      views.delete(path)
    }
    const both = { ...live, view: shown, close }
    views.set(path, both as LiveView<unknown>)
    queueMicrotask(() => (opened.value = [...views.values()]))
    return both
  }

  // A browser has six lines to a site: where the copy comes in over one, the day in short is drawn from it.
  const day = computed(() => {
    if (!dayId.value) return undefined
    const heard = takesCopy.value ? alone.dayView.value : view<DayView>('day').view.value
    return (heard?.dayId === dayId.value ? heard : undefined) ?? days.value.find((one) => one.dayId === dayId.value)
  })

  const refreshSession = async () => {
    // Said only once it is known: somebody may lock this tablet on its word.
    const isCounted = outbox.counted.peek() && photosCounted.peek()
    const keeps = isCounted ? `?acts=${outbox.unsent.peek() + outbox.troubled.peek()}&photos=${unsentPhotos.peek()}` : ''
    const heard = await api.get<SessionAnswer>(`/api/session${keeps}`)
    if (heard.said !== 'recorded') return
    if (!people.hear(heard.body).endTheirs) return
    await api.remove('/api/session')
    await refreshSession()
  }
  const refreshDays = async () => {
    const heard = await api.get<{ body: DayView }[]>('/api/days')
    if (heard.said !== 'recorded') return
    days.value = heard.body.map((row) => row.body)
    void keepFact(store, 'days', days.value)
  }
  const refreshPeople = async (id: string) => {
    const heard = await api.get<PersonOnDay[]>(`/api/days/${id}/people`)
    if (heard.said === 'recorded') {
      students.value = byId(heard.body)
      void keepFact(store, 'people', { dayId: id, people: heard.body })
    } else if (heard.said === 'noContact') {
      const kept = (await facts).people
      if (kept?.dayId === id && students.peek().size === 0) students.value = byId(kept.people)
      setTimeout(() => asked.value++, 5_000)
    }
  }
  const refreshStaff = async () => {
    const names = await api.get<{ personId: string; name: string }[]>('/api/session/people')
    if (names.said !== 'recorded') return
    staff.value = new Map(names.body.map((person) => [person.personId, person.name]))
    void keepFact(store, 'staff', names.body)
  }

  void facts.then((kept) => {
    if (days.peek().length === 0 && kept.days) days.value = kept.days
    if (staff.peek().size === 0 && kept.staff) staff.value = new Map(kept.staff.map((person) => [person.personId, person.name]))
  })
  setInterval(() => void clock.measure().then(() => rememberClock(clock)), 60_000)
  // A tablet that slept may have a clock that slept: it asks before anybody looks at it.
  document.addEventListener('visibilitychange', () => {
    hidden.value = document.visibilityState === 'hidden'
    if (!hidden.peek()) void clock.measure().then(() => rememberClock(clock))
  })
  addEventListener('offline', () => (lost.value = true))
  addEventListener('online', () => void refreshSession())
  effect(() => {
    const heard = streams.value.map(({ heardAt }) => heardAt.value ?? -Infinity)
    if (heard.length === 0 || performance.now() - Math.max(...heard) > 1_000) return
    lost.value = false
    void measured.then(() => keepText(heardKey, String(Math.round(clock.siteNow()))))
  })
  effect(() => {
    void clock.now.value
    const heard = streams.value.flatMap(({ heardAt }) => heardAt.value ?? [])
    if (heard.length > 0 && performance.now() - Math.max(...heard) > silentMs) lost.value = true
  })
  void refreshSession()
  // A lock that the site put on shows here soon, and a day that was opened meanwhile appears.
  setInterval(() => void refreshSession(), 10_000)
  setInterval(() => {
    if (!dayId.peek()) void refreshDays()
  }, 5_000)
  const deviceId = computed(() => session.value?.device?.deviceId)
  effect(() => {
    if (deviceId.value) void refreshDays()
  })
  const forgetting = openForgetting({
    store,
    facts,
    lost,
    days,
    heardAt: () => Number(localStorage.getItem(heardKey)),
    now: clock.siteNow,
    letGo: () => {
      students.value = new Map()
      staff.value = new Map()
      days.value = []
      copy.forget()
      for (const live of views.values()) live.forget()
      people.forget()
    },
  })
  effect(() => {
    if (takesCopy.value && dayId.value && !forgetting.forgotten.value) afterPaint(() => copy.follow(dayId.peek()!))
  })
  // A lock ends what was followed here: whoever signs on sees the day at once.
  effect(() => {
    if (session.value?.person) for (const live of streams.peek()) live.again()
  })
  // Who raised a hold is named on a locked screen too: the names are those to sign on with.
  effect(() => {
    const { device, person } = session.value ?? {}
    if (device && device.purpose !== 'board' && (person || dayId.value)) void refreshStaff()
  })
  // Students' names are the signed-on person's to see; a walk-in's appears when the day knows one more. Asked when one of
  // these changes and not each time that they are heard again.
  const asked = signal(0)
  const wanted = computed(() => [session.value?.person?.personId, dayId.value, day.value?.studentIds.length, asked.value].join(' '))
  effect(() => {
    if (wanted.value && session.peek()?.person && dayId.peek()) void refreshPeople(dayId.peek()!)
  })
  // Lost: whoever holds it finds nothing of the day here. What waits to be told is told first, and goes last.
  effect(() => {
    if (!isLocked.value || outbox.unsent.value + unsentPhotos.value > 0) return
    students.value = new Map()
    staff.value = new Map()
    void forget(store).catch(() => undefined)
  })
  void followVersions(() => !session.peek()?.person)

  /** As the table of acts has it: somebody else here is told so now, and not hours later. */
  const roles = () => session.peek()?.person?.roles ?? [session.peek()?.device?.purpose === 'kiosk' ? 'kiosk' : 'device']

  /** A no is written down too: somebody may dispute it. */
  const noted = (act: ActName, { rule, says, next, studentId }: Refusal) =>
    void tellAlone(
      'answerPrompt',
      {
        prompt: 'refusedOnDevice',
        studentId,
        attemptId: null,
        shown: `${act}: ${says} ${next}`.slice(0, 300),
        answer: rule,
        reason: null,
      },
      true,
    )

  /** The site cannot be asked: this device decides, as far as it may, and keeps what it decided. */
  const tellAlone = async <A extends ActName>(act: A, body: Spoken<A>, observed: boolean): Promise<Outcome> => {
    const id = dayId.peek()!
    const envelope = api.stamp()
    const { personId, signedOn } = people.by()
    const by: By = { personId: personId as By['personId'], roles: roles(), deviceId: session.peek()!.device!.deviceId, countersigned: null }
    if (!observed && !actTable[act].roles.some((role) => by.roles.includes(role))) return { said: 'notYours', problem: {} }
    const decided = alone.decide({ act, dayId: id, by, envelope, body, observed })
    if (decided && 'refused' in decided) {
      noted(act, decided.refused)
      return { said: 'refused', refusal: decided.refused, body: null }
    }
    if (!decided && !observed) return { said: 'noContact' }
    return outbox.tell({
      item: {
        kind: 'act',
        dayId: id as DayId,
        act,
        by: { personId, signedOn },
        envelope: { ...envelope, decidedOnDevice: true },
        body: body as Record<string, unknown>,
      },
      urgent: urgent.includes(act),
      ...(decided && { alone: decided.alone }),
    })
  }

  return {
    clock,
    api,
    outbox,
    session,
    refreshSession,
    day,
    days,
    chooseDay: (id) => (chosen.value = id),
    students,
    staff,
    equipment,
    view,
    contactAgeMs,
    lost,
    signedOn: people.signedOn,
    pinDue: people.pinDue,
    storage,
    forgotten: forgetting.forgotten,
    mayReturn: () => people.mayReturn(clock.siteNow(), day.peek()?.deviceHours ?? usualDeviceHours),
    signOnOutOfContact: (person) => {
      people.signOnOutOfContact(person)
      const since = Math.round(clock.siteNow())
      const item = { kind: 'signOn' as const, dayId: (dayId.peek() ?? '') as DayId, personId: person.personId as PersonId, since }
      if (dayId.peek()) void outbox.tell({ item, urgent: false })
    },
    async signOff() {
      const heard = lost.peek() ? undefined : await api.remove('/api/session')
      people.signOff()
      if (heard?.said === 'recorded') await refreshSession()
    },
    async takeReading(reading) {
      const envelope = api.stamp()
      const path = `/api/sites/${encodeURIComponent(reading.siteId)}/readings`
      const said = lost.peek() ? undefined : await api.post(path, { envelope, body: reading })
      if (said && said.said !== 'noContact') return said
      return outbox.tell({ item: { kind: 'reading', siteId: reading.siteId, by: people.by(), envelope, body: reading }, urgent: false })
    },
    async tellWritten(act, body, { at, bandMs }) {
      const id = dayId.peek()
      if (!id || !session.peek()?.device) return { said: 'noContact' }
      const happened = { occurredAt: at, offsetMs: 0, bandMs, steadyMs: null, contactAgeMs: 0, decidedOnDevice: true }
      const envelope = { ...api.stamp(), ...happened }
      const item = { kind: 'act' as const, dayId: id as DayId, act, by: people.by(), envelope, body: body as Record<string, unknown> }
      return outbox.tell({ item, urgent: false }, () => api.act(id, actTable[act].noun, body, envelope))
    },
    async tell(act, body, countersign) {
      const id = dayId.peek()
      if (!id || !session.peek()?.device) return { said: 'noContact' }
      const observed = (observations as readonly ActName[]).includes(act)
      if (lost.peek()) return tellAlone(act, body, observed)
      const { noun } = actTable[act]
      const envelope = api.stamp()
      if (!observed) {
        const said = await api.post(`/api/days/${id}/${noun}`, { envelope, body, ...(countersign && { countersign }) })
        // Asked anew under an id of its own: the first may have arrived, and what happens here now is not for it to refuse.
        return said.said === 'noContact' && !countersign ? tellAlone(act, body, false) : said
      }
      const item = { kind: 'act' as const, dayId: id as DayId, act, by: people.by(), envelope, body: body as Record<string, unknown> }
      return outbox.tell({ item, urgent: urgent.includes(act) }, () => api.act(id, noun, body, envelope))
    },
  }
}

const byId = (people: readonly PersonOnDay[]): ReadonlyMap<string, PersonOnDay> =>
  new Map(people.map((person) => [person.studentId, person]))

/** A request that was answered is contact, whatever the answer was; one that was not is none. */
const heardBy =
  (hear: (isHeard: boolean) => void): typeof fetch =>
  async (...request) => {
    try {
      const response = await fetch(...request)
      hear(![502, 503, 504].includes(response.status))
      return response
    } catch (error) {
      hear(false)
      throw error
    }
  }

/** True at once, false a little later: until the site's own pictures have caught up. */
function lingering(now: ReadonlySignal<boolean>): ReadonlySignal<boolean> {
  const shown = signal(now.peek())
  let timer: ReturnType<typeof setTimeout> | undefined
  effect(() => {
    clearTimeout(timer)
    if (now.value) shown.value = true
    else timer = setTimeout(() => (shown.value = false), viewsFollowMs)
  })
  return shown
}

/** The screen stands first; what it needs for a day without the site comes after. */
const afterPaint = (act: () => void) => requestAnimationFrame(() => setTimeout(act))

/** When the site was last heard, by its own clock: the age of contact goes on through a restart. */
const heardKey = 'musterbook.heardAt'
const clockKey = 'musterbook.clock'
const rememberClock = (clock: Clock) => {
  const remembered = clock.remembered()
  if (remembered) keepText(clockKey, JSON.stringify(remembered))
}
function rememberedClock(): Remembered | undefined {
  try {
    return JSON.parse(localStorage.getItem(clockKey) ?? '') as Remembered
  } catch {
    return undefined
  }
}

const sequenceKey = 'musterbook.sequence'
let sequence = 0
/** The device's own running number, kept through restarts. It goes on where nothing more can be kept. */
function nextSequence(): number {
  sequence = Math.max(sequence, Number(localStorage.getItem(sequenceKey) ?? 0)) + 1
  keepText(sequenceKey, String(sequence))
  return sequence
}

/** What people call a class; its id until a name of one of its students is known. */
export const className = (house: House, classId: string): string =>
  [...house.students.value.values()].find((person) => person.classId === classId)?.className ?? classId

/** What a card shows of a student: the name where somebody is signed on, the bib alone where nobody is. */
export function shown(house: House, studentId: string, bib: string | null): StudentShown {
  const person = house.students.value.get(studentId)
  return {
    id: studentId,
    name: person?.name ?? (bib ? `#${bib}` : studentId),
    ...(bib && { bib }),
    ...(person && { class: person.className, face: person.face, lookAlike: person.lookAlike.length > 0 }),
    ...(person?.photoDigest && { photo: `/api/students/${studentId}/photo` }),
  }
}
