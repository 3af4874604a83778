import { digest } from '@musterbook/evidence/canonical'
import type { Draft, Meta } from './ledger.ts'

/** A plausible draft, so that a test says only what matters to it. Invented data. */
export function draft(commandId: string, changes: { meta?: Partial<Meta>; events?: Draft['events'] } = {}): Draft {
  const events = changes.events ?? [{ type: 'lapCrossed', studentId: 'student-12', lap: 3 }]
  return {
    meta: {
      commandId,
      command: 'crossLine',
      bodyDigest: digest({ commandId, events }),
      personId: 'person-4',
      deviceId: 'device-2',
      deviceSequence: 17,
      occurredAt: 1_790_000_000_000,
      steadyMs: 52_000,
      offsetMs: -120,
      bandMs: 40,
      seenVersion: 0,
      ...changes.meta,
    },
    recordedAt: 1_790_000_000_100,
    events,
  }
}
