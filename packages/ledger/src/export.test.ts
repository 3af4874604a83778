import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { draft } from './controls.ts'
import { exportLines } from './export.ts'
import { checkedEntries, importEntries } from './import.ts'
import type { Ledger } from './ledger.ts'
import { linesOf } from './lines.ts'
import { memoryLedger } from './memory.ts'
import { sqliteLedger } from './sqlite.ts'

const flips = 10_000

describe('an export', () => {
  let ledger: Ledger
  let bytes: Uint8Array
  beforeAll(async () => {
    ledger = memoryLedger()
    for (let version = 0; version < 3; version++) await ledger.append('day/lark 7/é', version, draft(`c${version + 1}`))
    await ledger.append(
      'after/1',
      0,
      draft('c1', {
        events: [
          { type: 'noted', text: 'line\nbreak \u2028 "quoted" 😀' },
          { type: 'b', amount: -0.5 },
        ],
      }),
    )
    await ledger.seal('day/lark 7/é', await ledger.head('day/lark 7/é'))
    bytes = await exported(ledger)
  })

  test('is CloudEvents 1.0, one entry a line, and ends with the heads', () => {
    const lines = text(bytes)
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(lines).toHaveLength(5)
    for (const event of lines) {
      // The attributes that CloudEvents 1.0 section 3.1 requires, and its rule for the names of extensions.
      expect(event).toMatchObject({
        specversion: '1.0',
        id: expect.stringMatching(/./),
        source: expect.stringMatching(/./),
        type: expect.stringMatching(/./),
      })
      for (const name of Object.keys(event)) expect(name).toMatch(/^[a-z0-9]{1,20}$/)
    }
    expect(new Set(lines.map((event) => `${event.source} ${event.id}`)).size).toBe(5)
    expect(lines[1]).toMatchObject({
      source: 'urn:musterbook:stream:day/lark%207/%C3%A9',
      id: '1',
      subject: 'crossLine',
      time: '2026-09-21T14:13:20.100Z',
    })
    expect(lines[4]).toMatchObject({ type: 'musterbook.head.v1', data: { heads: [{ sealed: false }, { sealed: true }] } })
  })

  test('into an empty ledger of any kind gives the same heads, and the same export byte for byte', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'import-'))
    const file = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
    for (const empty of [memoryLedger(), file]) {
      await importEntries(checkedEntries(linesOf(chunksOf(bytes))), empty)
      expect(await empty.streams('')).toEqual(await ledger.streams(''))
      expect(text(await exported(empty))).toBe(text(bytes))
    }
    await file.close()
    rmSync(folder, { recursive: true })
  })

  test('is not imported into a ledger that holds something', async () => {
    await expect(importEntries(checkedEntries(linesOf(chunksOf(bytes))), ledger)).rejects.toThrow('already holds entries')
  })

  test(`with one bit flipped is refused, ${flips} times out of ${flips}`, async () => {
    const next = seeded(20261124)
    const unseen: string[] = []
    for (let round = 0; round < flips; round++) {
      const bit = Math.floor(next() * bytes.length * 8)
      const bent = bytes.slice()
      bent[bit >> 3]! ^= 1 << (bit & 7)
      if ((await faultOf(bent)) === undefined) unseen.push(`bit ${bit}`)
    }
    expect(unseen).toEqual([])
  }, 60_000)

  test.each([
    ['without its last line', (all: string[]) => all.slice(0, -1), 'ends after line 4 without its heads'],
    [
      'without its last entry',
      (all: string[]) => all.filter((_, index) => index !== 3),
      'the heads at the end of the export are not those of its entries',
    ],
    [
      'without an entry in the middle',
      (all: string[]) => all.filter((_, index) => index !== 2),
      'line 3: entry 3 of day/lark 7/é stands where entry 2 belongs',
    ],
    ['with an entry twice', (all: string[]) => [all[0]!, ...all], 'line 2: entry 1 of after/1 stands where entry 2 belongs'],
    ['with something after its heads', (all: string[]) => [...all, all[0]!], 'line 6 stands after the heads'],
    ['with a space more', (all: string[]) => all.map((line) => line.replace(':', ': ')), 'line 1 is not what an export writes'],
    ['of nothing', () => [], 'ends after line 0 without its heads'],
  ])('%s is refused with a sentence', async (_, change, sentence) => {
    const lines = change(text(bytes).trimEnd().split('\n'))
    expect(await faultOf(Buffer.from(lines.map((line) => `${line}\n`).join('')))).toContain(sentence)
  })

  test('cut anywhere is refused', async () => {
    for (let length = 0; length < bytes.length; length += 13) expect(await faultOf(bytes.slice(0, length))).toBeDefined()
  })
})

async function faultOf(bytes: Uint8Array): Promise<string | undefined> {
  try {
    const entries = checkedEntries(linesOf(chunksOf(bytes)))
    while (!(await entries.next()).done);
    return undefined
  } catch (error) {
    return (error as Error).message
  }
}

async function exported(ledger: Ledger): Promise<Uint8Array> {
  const lines: string[] = []
  for await (const line of exportLines(ledger)) lines.push(`${line}\n`)
  return new TextEncoder().encode(lines.join(''))
}

/** In pieces that cut characters and lines in two, as a file stream would. */
async function* chunksOf(bytes: Uint8Array): AsyncIterable<Uint8Array> {
  for (let at = 0; at < bytes.length; at += 1021) yield bytes.subarray(at, at + 1021)
}

function text(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes)
}

/** A small generator (mulberry32), so that a seed alone repeats a failure. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}
