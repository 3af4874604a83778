import type { DayView } from '@musterbook/day/views'
import type { RecordView } from '@musterbook/day/views/record'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { siteDate } from './site-date.ts'
import type { Tools } from './tools.ts'

/** A retest that somebody may still come for. */
export interface OpenRetest {
  entitlementId: string
  dayId: string
  grantedOn: string
  name: string
  code: string
  stations: string[]
  until: string
  /** Granted at a rehearsal: a rehearsal alone takes it up. */
  rehearsal: boolean
}

/** Entitlements that have not ended and that no later day took up, the one that ends first at the top. */
export async function openRetests(tools: Tools): Promise<OpenRetest[]> {
  const today = await siteDate(tools)
  const days = (await tools.views.days()).map(({ body }) => body as DayView)
  const open = (await Promise.all(days.map((day) => grantedOn(tools, day)))).flat().filter(({ until }) => until >= today)
  const firstGrant = open.map((one) => one.grantedOn).sort()[0]
  if (firstGrant === undefined) return []
  const taken = await takenUp(
    tools,
    days.filter(({ date }) => date > firstGrant),
  )
  return open.filter(({ entitlementId }) => !taken.has(entitlementId)).sort((one, other) => (one.until < other.until ? -1 : 1))
}

async function grantedOn({ views, office }: Tools, { dayId, date, rehearsal, studentIds }: DayView): Promise<OpenRetest[]> {
  const found: OpenRetest[] = []
  for (const studentId of (studentIds ?? []) as StudentId[]) {
    const record = (await views.get(dayId, 'record', studentId))?.body as RecordView | undefined
    if (!record || record.entitlements.length === 0) continue
    const student = await office.student(studentId)
    if (!student || student.left) continue
    for (const { entitlementId, stationIds, until } of record.entitlements) {
      const stations = stationIds.map((id) => record.stations.find(({ stationId }) => stationId === id)?.name ?? id)
      found.push({ entitlementId, dayId, grantedOn: date, name: student.name, code: student.code, stations, until, rehearsal })
    }
  }
  return found
}

async function takenUp({ replay }: Tools, days: readonly DayView[]): Promise<Set<string>> {
  const wholes = await Promise.all(days.map(({ dayId }) => replay.newest(dayId)))
  return new Set(wholes.flatMap((day) => [...(day?.students.values() ?? [])].flatMap(({ retest }) => retest?.entitlementId ?? [])))
}
