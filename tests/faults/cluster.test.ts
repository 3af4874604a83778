import { describe, expect, test } from 'vitest'
import { killed, leaderFaults, paused } from './cluster-faults.ts'

describe('the JetStream ledger under fire (short; `npm run -s faults` is the long form)', () => {
  test.each([
    ['kill -9 of the only server', 1, killed],
    ['kill -9 of the leader of three', 3, killed],
    ['a pause of the leader of three', 3, paused],
  ] as const)(
    '%s: nothing acknowledged is lost, doubled or changed, and followers get everything',
    async (_, servers, fault) => {
      const findings = await leaderFaults(servers, 1, fault, () => {})
      expect(findings.faults).toEqual([])
      expect(findings.acknowledged).toBeGreaterThan(50)
    },
    150_000,
  )
})
