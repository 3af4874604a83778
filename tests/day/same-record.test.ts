import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { happenings, live } from './random-day.ts'
import { recordsOf } from './records-of.ts'

/*
 * S11: the same entries under the same rule versions give the same records, byte for byte. Here in a process of its own,
 * with another locale, another time zone and the engine's own optimiser off; another machine can be tried with the same
 * two files.
 */
test('S11: a fresh process elsewhere makes the same records of the same entries, byte for byte', { timeout: 60_000 }, () => {
  const days = fc.sample(happenings(), { numRuns: 12, seed: 11 }).map((day) => live(day, () => {}).entries)
  const folder = mkdtempSync(join(tmpdir(), 'records-'))
  try {
    const file = join(folder, 'entries.json')
    writeFileSync(file, JSON.stringify(days))
    const script = fileURLToPath(new URL('./records-of.ts', import.meta.url))
    const elsewhere = { ...process.env, TZ: 'Pacific/Apia', LANG: 'ar_EG.UTF-8', LC_ALL: 'C' }
    const said = execFileSync(process.execPath, ['--no-opt', '--import', 'tsx', script, file], { env: elsewhere, maxBuffer: 1 << 28 })
    const here = days.map((entries) => recordsOf(entries)).join('\n')
    expect(here.length).toBeGreaterThan(50_000)
    expect(digest(said.toString('utf8'))).toBe(digest(here))
  } finally {
    rmSync(folder, { recursive: true })
  }
})

const digest = (text: string): string => createHash('sha256').update(text).digest('hex')
