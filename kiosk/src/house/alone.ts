import { computed, type ReadonlySignal } from '@preact/signals'
import type { Day } from '@musterbook/day/day'
import type { DayEntry } from '@musterbook/day/evolve'
import type { DayView, ViewName } from '@musterbook/day/views'
import { actTable, type ActName } from '@musterbook/vocabulary/act-table'
import type { Command } from '@musterbook/vocabulary/command'
import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { Refusal } from '@musterbook/vocabulary/refusals'
import type { Copy } from './copy.ts'
import type { Core } from './core.ts'
import type { Kept, Outbox } from './outbox.ts'

/** What this device may decide and draw by itself: its copy of the day with its own acts on top. */
export interface Alone {
  /** Is there a copy to decide on? */
  ready: ReadonlySignal<boolean>
  draw(name: ViewName, key: string): unknown
  /** The day in short. Drawn anew when something of it changes and not with each entry. */
  dayView: ReadonlySignal<DayView | null | undefined>
  /** The copy's version. */
  version: ReadonlySignal<number>
  /** undefined: there is no copy, and nothing can be decided. */
  decide(asked: Asked): { refused: Refusal } | { alone: NonNullable<Kept['alone']> } | undefined
}
type Asked = { act: ActName; dayId: string; by: By; envelope: Envelope; body: object; observed: boolean }

/** What only the office knows: a new name, who is qualified, the rules of a day. */
const needsTheOffice: readonly ActName[] = ['openDay', 'assignStaff', 'walkIn', 'reportHealthEvent']
const typedHere = { textId: 'kept-on-device', digest: '0'.repeat(64) }

export function openAlone(copy: Copy, outbox: Pick<Outbox, 'waiting' | 'landed'>): Alone {
  let last: { base: Day; told: readonly Kept[]; day: Day } | undefined

  const day = computed(() => {
    const [core, base] = [copy.core.value, copy.day.value]
    if (!core || !base?.opened) {
      last = undefined
      return undefined
    }
    const told = [...outbox.landed.value, ...outbox.waiting.value].filter(({ item }) => item.kind === 'act' && item.dayId === base.dayId)
    // One touch more is one fold more, however long the line has grown.
    const isMore = last?.base === base && last.told.every((kept, at) => kept === told[at])
    const from = isMore ? last! : { base, told: [], day: base }
    const folded = told.slice(from.told.length).reduce((before, kept) => onTop(core, before, kept), from.day)
    last = { base, told, day: folded }
    return folded
  })

  /** What an older app kept may have another shape: the site reads it, or keeps it whole, and this screen stands without it. */
  const onTop = (core: Core, before: Day, kept: Kept): Day => {
    try {
      return foldKept(core, before, kept, copy.holds)
    } catch {
      return before
    }
  }

  let drawn: { of: readonly unknown[]; view: DayView | null } | undefined
  const dayView = computed(() => {
    const stands = day.value
    if (!stands) {
      drawn = undefined
      return undefined
    }
    const of = [stands.opened, stands.sealed, stands.reopened, stands.staff, stands.students.size]
    if (!drawn || of.some((one, at) => one !== drawn!.of[at]))
      drawn = { of, view: copy.core.value!.dayViews.day.of(stands, 'all') as DayView | null }
    return drawn.view
  })

  return {
    dayView,
    ready: computed(() => day.value !== undefined),
    version: computed(() => day.value?.version ?? 0),
    draw: (name, key) => (day.value ? copy.core.value!.dayViews[name].of(day.value, key) : undefined),
    decide({ act, dayId, by, envelope, body, observed }) {
      const [core, stands] = [copy.core.peek(), day.peek()]
      if (!core || stands?.dayId !== dayId) return undefined
      if (!observed && isForTheSite(core, act, body)) return { refused: core.refusal('notWithoutContact') }
      const command = { act, dayId: dayId as DayId, by, envelope, body: sealedHere(act, body) } as Command
      const recordedAt = envelope.occurredAt - envelope.offsetMs
      const now = { recordedAt, siteVersionRead: stands.siteVersion, siteHead: stands.siteVersion }
      const decided = core.decide(command, stands, now)
      return decided.refused ? { refused: decided.refused } : { alone: { events: decided.events, recordedAt } }
    },
  }
}

/** Not today is no permission: it stands from whenever it was said. */
const isForTheSite = ({ neverOnDevice }: Core, act: ActName, body: object): boolean =>
  needsTheOffice.includes(act) || (neverOnDevice.includes(act) && !('status' in body && body.status === 'notToday'))

/** What was typed is sealed at the site; that something was is enough to decide here. */
const sealedHere = (act: ActName, body: object): object => {
  const typed = actTable[act].texts.filter((field) => typeof (body as Record<string, unknown>)[field] === 'string')
  return { ...body, ...Object.fromEntries(typed.map((field) => [field, typedHere])) }
}

function foldKept(core: Core, day: Day, kept: Kept, holds: Copy['holds']): Day {
  const { item } = kept
  if (item.kind !== 'act' || holds(item.envelope.commandId)) return day
  const isAfter = day.sealed !== null
  const { envelope } = item
  const recordedAt = kept.alone?.recordedAt ?? envelope.occurredAt - envelope.offsetMs
  const by: By = { personId: item.by.personId, roles: [], deviceId: '' as By['deviceId'], countersigned: null }
  const now = { recordedAt, siteVersionRead: day.siteVersion, siteHead: day.siteVersion }
  const command = { act: item.act, dayId: item.dayId, by, envelope, body: sealedHere(item.act, item.body) } as unknown as Command
  const events = kept.alone?.events ?? core.decide(command, day, now).events
  const entry: DayEntry = {
    stream: `${isAfter ? 'after' : 'day'}/${day.dayId}`,
    version: (isAfter ? day.afterVersion : day.version) + 1,
    recordedAt,
    meta: { ...envelope, personId: item.by.personId, deviceId: by.deviceId },
    events,
  }
  return core.evolve(day, entry)
}
