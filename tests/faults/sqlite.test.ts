import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { bentCopies } from './bent-copies.ts'
import { diskFull, failingDisk } from './disk-full.ts'
import { killWriter, pauseWriter } from './kill-writer.ts'
import { powerLoss } from './power-loss.ts'
import { chance } from '@musterbook/day/outlook/chance'

describe('the SQLite ledger under fire (short; `npm run -s faults` is the long form)', () => {
  const folder = mkdtempSync(join(tmpdir(), 'faults-'))
  afterAll(() => rmSync(folder, { recursive: true }))

  test('kill -9 of the writer: nothing acknowledged is lost, doubled or changed', async () => {
    const findings = await killWriter(folder, 6, () => {})
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(100)
  }, 60_000)

  test('a paused writer keeps its lock and goes on', async () => {
    const findings = await pauseWriter(folder, 1, () => {})
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(5)
  }, 30_000)

  test('a torn or bent copy is found, or reads back byte for byte', async () => {
    const findings = await bentCopies(folder, 300, chance(4711), () => {})
    expect(findings.faults).toEqual([])
    expect(findings.found).toBeGreaterThan(100)
  }, 60_000)

  test('a full disk refuses, loses nothing, and goes on when there is room', () => {
    const findings = diskFull(folder)
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(100)
    expect(findings.acknowledged).toBeLessThan(findings.asked)
  }, 60_000)

  test('a disk that fails stops the ledger once and for all, and nothing acknowledged is lost', () => {
    const findings = failingDisk(folder)
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(20)
  }, 60_000)

  test('power loss: what was synced before an answer is there, whatever else the disk kept', async () => {
    expect((await powerLoss(folder, 40, chance(815), () => {})).faults).toEqual([])
  }, 60_000)

  test('and the run would see a ledger that does not sync', async () => {
    expect((await powerLoss(folder, 5, chance(815), () => {}, false)).faults.join()).toContain('was acknowledged as')
  }, 60_000)
})
