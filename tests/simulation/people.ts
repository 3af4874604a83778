import type { By } from '@musterbook/vocabulary/envelope'
import type { Role } from '@musterbook/vocabulary/people'
import type { DeviceName } from './plan.ts'

/** Who stands at which device. The second tablet at the track is locked: nobody is signed on. Invented people. */
const staff: Record<DeviceName, readonly [string | null, ...Role[]]> = {
  'kiosk-1': [null, 'kiosk'],
  'greeter-1': ['edda', 'greeter'],
  'medical-1': ['petra', 'screener'],
  'medical-2': ['dai', 'screener'],
  'scale-1': ['juno', 'station'],
  'agility-1': ['mira', 'station'],
  'reach-1': ['bo', 'station'],
  'bench-1': ['colm', 'station'],
  'bench-2': ['leif', 'station'],
  'track-1': ['wren', 'station'],
  'track-2': ['arne', 'station'],
  'safety-1': ['rashid', 'safety'],
  'supervisor-1': ['tomas', 'supervisor'],
  'office-1': ['ines', 'coordinator'],
}

export function staffAt(device: DeviceName): By {
  const [personId, ...roles] = staff[device]
  return { personId, roles, deviceId: device, countersigned: null } as unknown as By
}

/** The same device with nobody signed on. */
export const lockedAt = (device: DeviceName): By => ({ ...staffAt(device), personId: null, roles: ['device'] })

export const countersignedBy = (by: By, second: DeviceName): By => {
  const { personId, roles } = staffAt(second)
  return { ...by, countersigned: { personId: personId!, roles } }
}

export const rolesOf = (personId: string | null): readonly Role[] =>
  Object.values(staff).flatMap(([known, ...roles]) => (known !== null && known === personId ? roles : []))
