import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { HoldNotice } from '../parts/hold-notice/hold-notice.tsx'
import { words } from '../words/words.ts'
import { stationActs } from './acts.ts'

/** A hold over this station's zone fills the screen until somebody here says that they heard it; the strip above stays. */
export function HoldOver({ house, view }: { house: House; view: StationView }) {
  const [heardHere, hear] = useState<readonly string[]>([])
  const day = house.day.value
  const deviceId = house.session.value?.device?.deviceId
  const outdoor = day?.zones.find((zone) => zone.zoneId === view.zoneId)?.outdoor ?? false
  const hold = house
    .view<SafetyView>('safety')
    .view.value?.holds.filter((one) => !one.lifted && (one.zoneId === view.zoneId || (one.zoneId === null && outdoor)))
    .find((one) => !heardHere.includes(one.holdId) && !one.heard.some((device) => device.deviceId === deviceId))
  if (!hold || !day) return null
  const underWay = hold.underWay.filter((one) => one.stationId === view.stationId)

  return (
    <HoldNotice
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
        void stationActs(house, view).heard(hold.holdId)
      }}
    />
  )
}
