import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { draft } from './controls.ts'
import { keptHead, keptHeadText, parseKeptHead } from './kept-head.ts'
import type { Ledger } from './ledger.ts'
import { memoryLedger } from './memory.ts'
import { fileFaults } from './sqlite-check.ts'
import { sqliteReader } from './sqlite-reader.ts'
import { sqliteLedger } from './sqlite.ts'
import { verify } from './verify.ts'

describe('a file is verified', () => {
  let folder: string
  let file: string
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'verify-'))
    file = join(folder, 'ledger.sqlite')
    const ledger = sqliteLedger({ file })
    await fill(ledger)
    await ledger.close()
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  test('and holds', async () => {
    const found = await verifyFile()
    expect(found.faults).toEqual([])
    expect(found.entries).toBe(9)
    expect(await faultsUnder(await kept())).toEqual([])
  })

  test.each([
    [
      "UPDATE entry SET text = replace(text, '\"lap\":3', '\"lap\":4') WHERE stream = 'day/1' AND version = 3",
      'entry 3 of day/1 does not have the content',
    ],
    ["UPDATE entry SET commandId = 'c77' WHERE stream = 'day/1' AND version = 2", 'entry 2 of day/1 is filed under another command'],
    [
      "UPDATE entry SET hash = 'ff' || substr(hash, 3) WHERE stream = 'day/2' AND version = 1",
      'entry 1 of day/2 does not have the content',
    ],
    ["DELETE FROM entry WHERE stream = 'day/1' AND version = 2", 'entry 3 of day/1 stands where entry 2 belongs'],
    ["UPDATE entry SET stream = 'day/0' WHERE stream = 'day/2'", 'entry 1 of day/2 stands where entry 1 of day/0 belongs'],
  ])('and the first entry that does not fit is named: %s', async (statement, fault) => {
    tamper(statement)
    expect((await verifyFile()).faults.join('; ')).toContain(fault)
  })

  test('and a cut tail is found against the kept head, and only there', async () => {
    const before = await kept()
    tamper("DELETE FROM entry WHERE stream = 'day/1' AND version = 4")
    expect(await faultsUnder(undefined)).toEqual([])
    expect(await faultsUnder(before)).toEqual(['day/1 ends at entry 3; the kept head says 4: its tail was cut off'])
  })

  test('and a stream that vanished is found against the kept head', async () => {
    const before = await kept()
    tamper("DELETE FROM entry WHERE stream = 'day/1'")
    expect(await faultsUnder(before)).toEqual(['day/1 ends at entry 0; the kept head says 4: its tail was cut off'])
  })

  test('and a tail that was chained anew is found against the kept head', async () => {
    const before = await kept()
    tamper("DELETE FROM entry WHERE stream = 'day/1' AND version >= 3")
    const forger = sqliteLedger({ file })
    for (let version = 2; version < 5; version++) await forger.append('day/1', version, draft(`forged-${version}`))
    await forger.close()
    expect(await faultsUnder(undefined)).toEqual([])
    expect(await faultsUnder(before)).toEqual([
      'entry 4 of day/1 is not the one that the kept head names: it, or one before it, was written anew',
    ])
  })

  test('and a broken seal is found', async () => {
    const before = await kept()
    tamper("DELETE FROM sealed WHERE stream = 'day/2'")
    expect(await faultsUnder(before)).toEqual(['day/2 was sealed and is not any more'])
    const forger = sqliteLedger({ file })
    await forger.append('day/2', 5, draft('after'))
    await forger.close()
    expect(await faultsUnder(before)).toEqual(['day/2 goes on to entry 6 after it was sealed at 5'])
  })

  test('and a seal that names another entry than the last is found', () => {
    tamper("UPDATE sealed SET version = 4 WHERE stream = 'day/2'")
    expect(fileFaults(file)).toEqual(['day/2 was sealed at entry 4 and ends at 5'])
  })

  test('and a file that is none is said to be none', () => {
    expect(fileFaults(join(folder, 'nowhere.sqlite'))[0]).toContain('the file cannot be read')
  })

  const verifyFile = async (before?: Parameters<typeof verify>[1]) => {
    const reader = sqliteReader({ file })
    try {
      return await verify(reader, before)
    } finally {
      await reader.close()
    }
  }
  const faultsUnder = async (before: Parameters<typeof verify>[1]) => (await verifyFile(before)).faults
  const kept = async () => {
    const reader = sqliteReader({ file })
    const heads = await reader.streams('')
    await reader.close()
    return parseKeptHead(keptHeadText(keptHead(heads)))
  }
  const tamper = (statement: string) => {
    const db = new Database(file)
    const triggers = db.prepare("SELECT name FROM sqlite_master WHERE type = 'trigger'").pluck().all() as string[]
    for (const name of triggers) db.exec(`DROP TRIGGER ${name}`)
    db.exec(statement)
    db.close()
  }
})

describe('a kept head', () => {
  test('that was changed, or is none, is refused', async () => {
    const ledger = memoryLedger()
    await fill(ledger)
    const text = keptHeadText(keptHead(await ledger.streams('')))
    expect(() => parseKeptHead(text.replace('"version":4', '"version":3'))).toThrow('was changed since it was kept')
    for (const none of ['', '{}', '[]', 'null', '{"kind":"musterbook head 1","heads":[1],"digest":""}']) {
      expect(() => parseKeptHead(none)).toThrow('this is not a kept head')
    }
  })
})

async function fill(ledger: Ledger): Promise<void> {
  for (let version = 0; version < 4; version++) await ledger.append('day/1', version, draft(`c${version + 1}`))
  for (let version = 0; version < 5; version++) await ledger.append('day/2', version, draft(`c${version + 1}`))
  await ledger.seal('day/2', await ledger.head('day/2'))
}
