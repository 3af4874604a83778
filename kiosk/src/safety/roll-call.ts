import type { HoldView, SafetyView } from '@musterbook/day/views/safety'
import type { Listener } from '../parts/acknowledge-list/acknowledge-list.tsx'

/** A device as the site knows it. */
export interface Contact {
  deviceId: string
  name: string
  purpose: 'kiosk' | 'board' | 'staff'
  stationId: string | null
  lastHeardAt: number | null
  /** Where its station stands today. */
  zoneId: string | null
  unreachable: boolean
}

/** One whom the hold must reach. */
export type Called = Omit<Listener, 'age' | 'next'> & Pick<Contact, 'stationId' | 'lastHeardAt'>

/**
 * Whom a hold must reach: every staff device that stands in its zone and is in use today. Kiosks and boards show it and have
 * nobody to answer; the rest is listed apart.
 */
export function mustHear(hold: HoldView, safety: SafetyView, contacts: readonly Contact[]): Called[] {
  return listeners(
    hold,
    contacts.filter((device) => isConcerned(hold, safety, device)),
  )
}

export function othersWhoHear(hold: HoldView, safety: SafetyView, contacts: readonly Contact[]): Called[] {
  return listeners(
    hold,
    contacts.filter((device) => inUse(hold, device) && device.purpose === 'staff' && !isConcerned(hold, safety, device)),
  )
}

function isConcerned(hold: HoldView, safety: SafetyView, device: Contact): boolean {
  if (device.purpose !== 'staff' || device.zoneId === null || !inUse(hold, device)) return false
  if (hold.zoneId !== null) return device.zoneId === hold.zoneId
  return safety.zones.find(({ zoneId }) => zoneId === device.zoneId)?.outdoor ?? false
}

/** Enrolled and never switched on today it stands in nobody's hand. */
const inUse = (hold: HoldView, { deviceId, lastHeardAt }: Contact): boolean =>
  lastHeardAt !== null || hold.heard.some((one) => one.deviceId === deviceId) || hold.notHeard.includes(deviceId)

/** The longest out of contact first; how old what is known of each is stands beside it. */
function listeners(hold: HoldView, contacts: readonly Contact[]): Called[] {
  const longestFirst = [...contacts].sort((one, other) => (one.lastHeardAt ?? 0) - (other.lastHeardAt ?? 0))
  return longestFirst.map(({ deviceId, name, stationId, lastHeardAt, unreachable }): Called => {
    const heard = hold.heard.find((one) => one.deviceId === deviceId)
    if (heard) return { id: deviceId, name, stationId, lastHeardAt, state: 'heard', afterMs: Math.max(0, heard.at - hold.since) }
    return { id: deviceId, name, stationId, lastHeardAt, state: unreachable ? 'unreachable' : 'notHeard' }
  })
}
