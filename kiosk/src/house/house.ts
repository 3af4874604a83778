import { computed, effect, signal, type ReadonlySignal, type Signal } from '@preact/signals'
import { actTable, observations, type ActName } from '@musterbook/vocabulary/act-table'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { DayView, ViewName } from '@musterbook/day/views'
import type { PersonOnDay } from '@musterbook/gateway/routes/people'
import type { SessionAnswer } from '@musterbook/gateway/routes/session'
import { openApi, type Api, type Outcome } from '../live/api.ts'
import { openClock, type Clock } from '../live/clock.ts'
import { contactAge } from '../live/contact.ts'
import { follow, type LiveView } from '../live/live.ts'
import { applyRow, rowDifferences } from '../live/row.ts'
import type { StudentShown } from '../parts/student-card/student-card.tsx'
import { openOutbox, type Outbox } from './outbox.ts'

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
  /** A live view of the day, opened once and shared. */
  view<View>(name: ViewName, key?: string): LiveView<View>
  contactAgeMs: ReadonlySignal<number | undefined>
  /**
   * Tells the day. An observation is kept on this device first and is never lost; a permission that cannot be asked is
   * not kept: nobody starts later on what was asked now.
   */
  tell<A extends ActName>(act: A, body: Spoken<A>, countersign?: { personId: string; pin: string }): Promise<Outcome>
}

const urgent: readonly ActName[] = ['stopStudent', 'raiseHold', 'acknowledgeHold', 'refer']

export function openHouse(): House {
  const clock = openClock()
  clock.run()
  const session: Signal<SessionAnswer | undefined> = signal(undefined)
  const days: Signal<readonly DayView[]> = signal([])
  const chosen = signal(new URLSearchParams(location.search).get('day') ?? undefined)
  const students: Signal<ReadonlyMap<string, PersonOnDay>> = signal(new Map())
  const staff: Signal<ReadonlyMap<string, string>> = signal(new Map())
  const views = new Map<string, LiveView<unknown>>()
  const opened = signal<readonly LiveView<unknown>[]>([])
  const contactAgeMs = computed(() => contactAge(clock, opened.value).value)

  const dayId = computed(() => chosen.value ?? currentOf(days.value)?.dayId)
  const api = openApi({
    clock,
    nextSequence,
    seenVersion: () => Math.max(0, ...[...views.values()].map((view) => Number(view.version.peek() ?? 0))),
    contactAgeMs: () => Math.max(0, contactAgeMs.peek() ?? 0),
  })
  const outbox = openOutbox(api)

  const view = <View>(name: ViewName, key = 'all'): LiveView<View> => {
    const path = `/api/days/${dayId.peek()}/live/${name}/${key}`
    const known = views.get(path)
    if (known) return known as LiveView<View>
    const live = follow<View>(name, { path: () => `${path}?differences=patch`, apply: applyRow, differences: rowDifferences })
    views.set(path, live as LiveView<unknown>)
    queueMicrotask(() => (opened.value = [...views.values()]))
    return live
  }

  const day = computed(() =>
    dayId.value ? (view<DayView>('day').view.value ?? days.value.find((one) => one.dayId === dayId.value)) : undefined,
  )

  const refreshSession = async () => {
    const heard = await api.get<SessionAnswer>('/api/session')
    if (heard.said === 'recorded') session.value = heard.body
  }
  const refreshDays = async () => {
    const heard = await api.get<{ body: DayView }[]>('/api/days')
    if (heard.said === 'recorded') days.value = heard.body.map((row) => row.body)
  }
  const refreshPeople = async (id: string) => {
    const heard = await api.get<PersonOnDay[]>(`/api/days/${id}/people`)
    if (heard.said === 'recorded') students.value = new Map(heard.body.map((person) => [person.studentId, person]))
    else if (heard.said === 'noContact') setTimeout(() => asked.value++, 5_000)
  }
  const refreshStaff = async () => {
    const names = await api.get<{ personId: string; name: string }[]>('/api/session/people')
    if (names.said === 'recorded') staff.value = new Map(names.body.map((person) => [person.personId, person.name]))
  }

  void clock.measure()
  setInterval(() => void clock.measure(), 60_000)
  // A tablet that slept may have a clock that slept: it asks before anybody looks at it.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void clock.measure()
  })
  void refreshSession()
  // A lock that the site put on shows here soon, and a day that was opened meanwhile appears.
  setInterval(() => void refreshSession(), 10_000)
  setInterval(() => {
    if (!dayId.peek()) void refreshDays()
  }, 5_000)
  effect(() => {
    if (session.value?.device) void refreshDays()
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
    view,
    contactAgeMs,
    async tell(act, body, countersign) {
      const id = dayId.peek()
      if (!id) return { said: 'noContact' }
      const { noun } = actTable[act]
      if ((observations as readonly ActName[]).includes(act) && outbox.keeps.peek()) {
        return outbox.tell({ dayId: id, noun, body, envelope: api.stamp(), urgent: urgent.includes(act) })
      }
      const envelope = api.stamp()
      return api.post(`/api/days/${id}/${noun}`, { envelope, body, ...(countersign && { countersign }) })
    },
  }
}

/** The open day of this site; of several the newest; with none open, the newest of all. */
function currentOf(days: readonly DayView[]): DayView | undefined {
  const newest = [...days].sort((one, other) => other.openedAt - one.openedAt)
  return newest.find((day) => day.state === 'open') ?? newest[0]
}

/** The device's own running number, kept through restarts. */
function nextSequence(): number {
  const next = Number(localStorage.getItem('musterbook.sequence') ?? 0) + 1
  localStorage.setItem('musterbook.sequence', String(next))
  return next
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
