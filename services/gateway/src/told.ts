import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import type { CommandId, DeviceId } from '@musterbook/vocabulary/ids'
import type { HouseContext } from './http/route.ts'
import type { GatewayParts } from './parts.ts'

/** A device before it is enrolled has no name of its own. */
const unknownDevice = 'not-enrolled' as DeviceId

export function byOf(c: HouseContext, countersigned: By['countersigned'] = null): By {
  const { person, device, roles } = c.var.who
  return { personId: person?.personId ?? null, roles, deviceId: device?.deviceId ?? unknownDevice, countersigned }
}

/** For what is asked without an envelope, at the server's own clock: nothing that a student's day rests on. */
export function ownEnvelope({ clock, newId }: Pick<GatewayParts, 'clock' | 'newId'>, commandId = newId()): Envelope {
  return {
    commandId: commandId as CommandId,
    deviceSequence: 0,
    occurredAt: clock(),
    steadyMs: null,
    offsetMs: 0,
    bandMs: 0,
    seenVersion: 0,
    contactAgeMs: 0,
    decidedOnDevice: false,
  }
}
