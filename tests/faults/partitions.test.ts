import { describe, expect, test } from 'vitest'
import { partitions } from './partitions.ts'

describe.concurrent('a divided cluster, in networks of the kernel (short; `npm run -s faults` is the long form)', () => {
  test('one of three cut off: the others go on without it', async () => {
    const findings = await partitions('one', 1, () => {})
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(90)
  }, 150_000)

  test('two of three cut off: nothing is acknowledged until they are back, and nothing is lost', async () => {
    const findings = await partitions('two', 1, () => {})
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(50)
  }, 150_000)

  test('the leader and the others apart, clients with all of them: nothing acknowledged is lost', async () => {
    const findings = await partitions('leaderFromOthers', 1, () => {})
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(50)
  }, 150_000)
})
