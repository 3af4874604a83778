import type { SafetyView } from '@musterbook/day/views/safety'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { House } from '../house/house.ts'

export interface Head {
  studentId: string
  bib: string | null
  seen: boolean
}

/** Who is expected in a zone and who has been seen: as the day has it, with what was touched here and is still on its way. */
export function headsIn(house: House, { heads }: SafetyView, zoneId: string): Head[] {
  const expected = heads.find((one) => one.zoneId === zoneId)?.expected ?? []
  const touched = touchesHere(house, zoneId)
  return expected.map(({ studentId, bib, countsFrom, seen }) => {
    const last = touched.findLast(
      (touch) => touch.studentIds.some((one) => one === studentId) && touch.at > Math.max(countsFrom, seen?.at ?? 0),
    )
    return { studentId, bib, seen: last ? last.seen : seen !== null }
  })
}

const touchesHere = ({ outbox }: House, zoneId: string) =>
  [...outbox.landed.value, ...outbox.waiting.value].flatMap(({ item }) => {
    if (item.kind !== 'act' || item.act !== 'seeAtHeadcount') return []
    const body = item.body as BodyOf<'seeAtHeadcount'>
    return body.zoneId === zoneId ? [{ ...body, at: happenedAt(item.envelope) }] : []
  })
