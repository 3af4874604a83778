import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { HoldView, SafetyView } from '@musterbook/day/views/safety'
import type { HoldId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { HoldNotice } from '../parts/hold-notice/hold-notice.tsx'
import { words } from '../words/words.ts'
import { tell } from './shell.tsx'

interface Props {
  house: House
  /** The zone where this screen stands; null: it hears of every hold. */
  zoneId: string | null
  /** Who of those under way is this screen's own. */
  stationId?: string
  children?: (hold: HoldView) => ComponentChildren
}

/**
 * A hold fills the screen, with sound, until somebody here says that they heard it. It comes on a locked tablet as well, and
 * a later hold comes over an earlier one.
 */
export function StopNotice({ house, zoneId, stationId, children }: Props) {
  const [heardHere, hear] = useState<readonly string[]>([])
  const day = house.day.value
  const device = house.session.value?.device
  if (!day || !device) return null
  const hold = house
    .view<SafetyView>('safety')
    .view.value?.holds.filter((one) => !one.lifted && reaches(one, zoneId, day.zones))
    .find((one) => !heardHere.includes(one.holdId) && !one.heard.some(({ deviceId }) => deviceId === device.deviceId))
  if (!hold) return null
  const underWay = hold.underWay.filter((one) => stationId === undefined || one.stationId === stationId)

  return (
    <HoldNotice
      key={hold.holdId}
      hold={{
        holdId: hold.holdId,
        kind: hold.kind,
        zone: hold.zoneId === null ? null : hold.zone,
        since: hold.since,
        by: hold.personId ? (house.staff.value.get(hold.personId) ?? hold.personId) : words.shell.byPolicy,
      }}
      now={house.clock.now}
      zone={day.timeZone}
      underWay={underWay.flatMap((one) => one.bib ?? [])}
      orderUnknown={underWay.some((one) => one.orderNotCertain)}
      onAcknowledge={() => {
        hear([...heardHere, hold.holdId])
        void tell(house, words.hold.heardHere, 'acknowledgeHold', { holdId: hold.holdId as HoldId })
      }}
    >
      {children?.(hold)}
    </HoldNotice>
  )
}

/** Does a hold reach somebody who stands in that zone? */
export function reaches(
  hold: { zoneId: string | null },
  zoneId: string | null,
  zones: readonly { zoneId: string; outdoor: boolean }[],
): boolean {
  if (zoneId === null || hold.zoneId === zoneId) return true
  return hold.zoneId === null && (zones.find((zone) => zone.zoneId === zoneId)?.outdoor ?? false)
}
