import type { Draft } from '@musterbook/ledger/ledger'

/** An entry of about 1 kB, as a real act with its times makes one; put together quickly, so that the bench measures the ledger. */
export function kilobyte(commandId: string): Draft {
  return {
    meta: {
      commandId,
      command: 'recordResult',
      bodyDigest: 'ab'.repeat(32),
      personId: 'person-4',
      deviceId: 'device-2',
      deviceSequence: 17,
      occurredAt: 1_790_000_000_000,
      steadyMs: 52_000,
      offsetMs: -120,
      bandMs: 40,
      seenVersion: 0,
    },
    recordedAt: 1_790_000_000_100,
    events: [{ type: 'resultRecorded', studentId: 'student-12', note }],
  }
}

const note = 'x'.repeat(420)
