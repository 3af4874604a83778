import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import { memoryLedger } from '@musterbook/ledger/memory'
import type { CommandId } from '@musterbook/vocabulary/ids'
import { expect, test } from 'vitest'
import { collect } from './clients.ts'
import { chance } from '@musterbook/day/outlook/chance'
import { scriptFaults, type Observation } from './soak-script.ts'
import { soak } from './soak.ts'
import { soakTablets } from './soak-tablets.ts'
import { Outbox, WrongClock } from './soak-device.ts'

test('a soak of 300 observations: all there, none twice, none altered (short; `npm run -s faults -- --only soak` is the long form)', async () => {
  const findings = await soak(300, chance(4711), () => {})
  expect(findings.faults).toEqual([])
  expect(findings).toMatchObject({ rounds: 300, acknowledged: 300, lost: 0, doubled: 0, unknown: 0 })
}, 240_000)

test('twelve tablets in Chromium save 180 observations with their own app: what one said it saved is in the record once, unaltered', async () => {
  const findings = await soakTablets(180, chance(4711), () => {})
  expect(findings.faults).toEqual([])
  expect(findings).toMatchObject({ acknowledged: findings.rounds, lost: 0, doubled: 0, unknown: 0 })
  expect(findings.rounds).toBeGreaterThanOrEqual(180)
}, 240_000)

test('and it would see one that is lost, doubled, altered, or at another time', async () => {
  const envelope = { ...new WrongClock(0).stamp('tablet', 1, 0), steadyMs: 7 }
  const observation: Observation = { dayId: '1', act: 'weigh', body: { mass: 80_000 }, envelope }
  const kept = async (mass: number, meta: object = {}) => {
    const ledger = memoryLedger()
    const written = draft(envelope.commandId, { events: [{ type: 'weighed', mass }] })
    await ledger.append('day/1', 0, { ...written, meta: { ...written.meta, ...envelope, ...meta } })
    return collect(ledger.read('day/1', 0))
  }
  const faults = (entries: Awaited<ReturnType<typeof kept>>) => scriptFaults([observation], new Map([['day/1', entries]]))
  const right = await kept(80_000)
  expect(faults(right)).toEqual([])
  expect(faults([])).toEqual(['tablet-1 stands 0 times'])
  expect(faults([...right, ...right])).toEqual(['tablet-1 stands 2 times'])
  expect(faults(await kept(80_001))).toEqual(['tablet-1 is there altered'])
  expect(faults(await kept(80_000, { occurredAt: 5 }))).toEqual(['tablet-1 is there altered'])
})

test('a device that starts again has what it had kept, and no more', () => {
  const folder = mkdtempSync(join(tmpdir(), 'outbox-'))
  const outbox = new Outbox(join(folder, 'outbox'))
  for (const sequence of [1, 2, 3])
    outbox.keep({ dayId: '1', act: 'weigh', body: {}, envelope: new WrongClock(0).stamp('tablet', sequence, 0) })
  outbox.isInTheRecord('tablet-2' as CommandId)
  const again = new Outbox(join(folder, 'outbox'))
  expect(again.unsent.map(({ envelope }) => envelope.commandId)).toEqual(['tablet-1', 'tablet-3'])
  expect(again.nextSequence).toBe(4)
  rmSync(folder, { recursive: true })
})
