import { z } from 'zod'
import { CommandId, DeviceId, PersonId } from './ids.ts'
import { Role } from './people.ts'

/** What every command carries from the device: its id, the device's own count, both clocks, and the picture of the day it was given on. */
export const Envelope = z.strictObject({
  commandId: CommandId,
  /** The device's own running number of commands. */
  deviceSequence: z.int().nonnegative(),
  /** The device's clock when it happened, epoch ms, as it stood; never rewritten. */
  occurredAt: z.int().nonnegative(),
  /** The device's steady clock, ms since it started; null where there was none (typed later from paper). */
  steadyMs: z.number().nonnegative().nullable(),
  /** Which steady clock that is: one id for each time that the device begins one. Two of different clocks have no difference. */
  steadyOf: z.string().min(1).max(64).exactOptional(),
  /** Device clock minus ledger clock as measured at sign-on or since, ms. */
  offsetMs: z.int(),
  /** ± of that measurement, ms. */
  bandMs: z.int().nonnegative(),
  /** Version of the day that the screen showed; 0 when it showed none. */
  seenVersion: z.int().nonnegative(),
  /** How long ago the device last heard the ledger when this happened, ms. 0 when in contact. */
  contactAgeMs: z.int().nonnegative(),
  /** The device was out of contact and has let it happen already: kept as an observation, never refused. */
  decidedOnDevice: z.boolean(),
})
export type Envelope = z.infer<typeof Envelope>

const Roles = z.array(Role).max(20).readonly()
/** Who acts: proven by the gateway, never by the body. */
export const By = z.strictObject({
  /** null: an enrolled device with nobody signed on. */
  personId: PersonId.nullable(),
  roles: Roles,
  deviceId: DeviceId,
  /** The second person, where one countersigned with their own PIN. */
  countersigned: z.strictObject({ personId: PersonId, roles: Roles }).nullable(),
})
export type By = z.infer<typeof By>

/** Best estimate of the ledger's time at which something happened. */
export const happenedAt = (times: { occurredAt: number; offsetMs: number }): number => times.occurredAt - times.offsetMs

/** Could the two have happened in either order? Then the stricter reading governs and the screen says that the order is not certain. */
export function orderNotCertain(
  one: { occurredAt: number; offsetMs: number; bandMs: number },
  other: { occurredAt: number; offsetMs: number; bandMs: number },
): boolean {
  return Math.abs(happenedAt(one) - happenedAt(other)) <= one.bandMs + other.bandMs
}
