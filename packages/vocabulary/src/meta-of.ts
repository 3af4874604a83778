import type { By, Envelope } from './envelope.ts'

/** What an entry says of the command that it answers: who told it, at which device, and both clocks as that device told them. */
export const metaOf = (command: string, by: By, envelope: Envelope, bodyDigest: string) => ({
  commandId: envelope.commandId,
  command,
  bodyDigest,
  personId: by.personId,
  deviceId: by.deviceId,
  deviceSequence: envelope.deviceSequence,
  occurredAt: envelope.occurredAt,
  steadyMs: envelope.steadyMs,
  ...(envelope.steadyOf && { steadyOf: envelope.steadyOf }),
  offsetMs: envelope.offsetMs,
  bandMs: envelope.bandMs,
  seenVersion: envelope.seenVersion,
})
