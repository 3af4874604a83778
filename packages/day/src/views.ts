import type { Day } from './day.ts'
import { boardView, floorView, publicView } from './views/board.ts'
import { inboxView } from './views/inbox.ts'
import { medicalView } from './views/medical.ts'
import { recordView } from './views/record.ts'
import { safetyView } from './views/safety.ts'
import { stationView } from './views/station.ts'
import { weighInView } from './views/weigh-in.ts'
import type { NormTable } from '@musterbook/scoring/norms'
import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { usualDeviceHours } from '@musterbook/vocabulary/rules'
import type { Protocol } from '@musterbook/stations/protocol'

/** The day in short: for the list of days and for every screen's frame. */
export interface DayView {
  dayId: string
  siteId: string
  date: string
  timeZone: string
  utcOffsetMinutes: number
  title: string
  rehearsal: boolean
  state: 'open' | 'sealed' | 'reopened'
  openedAt: number
  sealedAt: number | null
  sealedVersion: number | null
  stations: { stationId: string; zoneId: string; name: string; kind: string; protocol: Protocol; equipmentIds: string[]; staff: string[] }[]
  zones: { zoneId: string; name: string; outdoor: boolean }[]
  heatPolicy: string | null
  /** The pinned tables with their groups and no values: whose norms apply is shown to the student, what they say is not. */
  norms: NormsShown[]
  contactAgeMs: number
  /** How long a device keeps this day, and who signed on there may sign on without contact. */
  deviceHours: number
  briefing: 'asked' | 'required'
  /** When who was born on 29 February is a year older, in the words of the pinned rules. */
  leapBirthday: 'march1' | 'february28'
  studentIds: string[]
  /** Absent: the day pinned none. */
  emergencyCard?: PinnedEmergencyCard
}

export interface NormsShown extends Pick<NormTable, 'id' | 'edition' | 'test' | 'outsideAges' | 'invented'> {
  groups: { sex: NormTable['groups'][number]['sex']; ageFrom: number; ageTo: number | null }[]
}

function dayView(day: Day): DayView | null {
  if (!day.opened) return null
  const { facts, rules, at } = day.opened
  return {
    dayId: day.dayId,
    siteId: facts.siteId,
    date: facts.date,
    timeZone: facts.timeZone,
    utcOffsetMinutes: facts.utcOffsetMinutes,
    title: facts.title,
    rehearsal: facts.rehearsal,
    state: day.reopened ? 'reopened' : day.sealed ? 'sealed' : 'open',
    openedAt: at,
    sealedAt: day.sealed?.at ?? null,
    sealedVersion: day.sealed?.version ?? null,
    stations: rules.stations.map(({ stationId, zoneId, protocol, equipmentIds }) => ({
      stationId,
      zoneId,
      name: protocol.name,
      kind: protocol.kind,
      protocol: protocol as unknown as Protocol,
      equipmentIds,
      staff: (day.staff.get(stationId) ?? []).map((one) => one.personId),
    })),
    zones: rules.zones,
    heatPolicy: rules.heatPolicy?.id ?? null,
    norms: rules.norms.map((table) => normsShown(table as unknown as NormTable)),
    contactAgeMs: rules.contactAgeMs,
    deviceHours: rules.deviceHours ?? usualDeviceHours,
    briefing: rules.briefing,
    leapBirthday: rules.leapBirthday,
    studentIds: [...day.students.keys()],
    ...(rules.emergencyCard && { emergencyCard: rules.emergencyCard }),
  }
}

const normsShown = ({ id, edition, test, outsideAges, invented, groups }: NormTable): NormsShown => ({
  id,
  edition,
  test,
  outsideAges,
  invented,
  groups: groups.map(({ sex, ageFrom, ageTo }) => ({ sex, ageFrom, ageTo })),
})

interface DayViewOf {
  /** Rises when the form or the meaning of its rows changes: they are built anew from the first entry. */
  revision: number
  keys: (day: Day) => string[]
  of: (day: Day, key: string) => unknown
}

const one = (of: (day: Day) => unknown, revision = 1): DayViewOf => ({ revision, keys: () => ['all'], of })

/** Every picture of a day, as a pure function of it: the same for the live board, for a replay, and on a tablet out of contact. */
export const dayViews = {
  day: one(dayView, 3),
  station: { revision: 2, keys: (day) => day.opened?.rules.stations.map((station) => station.stationId) ?? [], of: stationView },
  board: one(boardView),
  public: one(publicView, 2),
  floor: one(floorView, 2),
  weighIn: one(weighInView),
  safety: one(safetyView, 3),
  medical: one(medicalView),
  record: { revision: 2, keys: (day) => [...day.students.keys()], of: recordView },
  inbox: one(inboxView),
} as const satisfies Record<string, DayViewOf>

export type ViewName = keyof typeof dayViews
