import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { digestOfText } from '@musterbook/evidence/canonical'
import { entryHash } from '@musterbook/evidence/chain'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ledgerContract } from './contract.ts'
import { draft } from './controls.ts'
import { placeAfter } from './entry-text.ts'
import type { Entry, Ledger } from './ledger.ts'
import { sqliteReader } from './sqlite-reader.ts'
import { sqliteLedger } from './sqlite.ts'

ledgerContract('SQLite', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'ledger-'))
  const file = join(folder, 'ledger.sqlite')
  const ledger = sqliteLedger({ file })
  return {
    ledger,
    refused: () => sqliteLedger({ file }),
    close: async () => {
      await ledger.close()
      rmSync(folder, { recursive: true })
    },
  }
})

describe('a ledger file', () => {
  let folder: string
  let file: string
  let ledger: Ledger
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'ledger-'))
    file = join(folder, 'ledger.sqlite')
    ledger = sqliteLedger({ file })
    for (let version = 0; version < 4; version++) await ledger.append('day/1', version, draft(`c${version + 1}`))
    await ledger.append('day/2', 0, draft('c1'))
    await ledger.seal('day/2', await ledger.head('day/2'))
  })
  afterAll(async () => {
    await ledger.close()
    rmSync(folder, { recursive: true })
  })

  test('is refused to another process with a sentence, and given to it once the first has gone', async () => {
    const shared = join(folder, 'shared.sqlite')
    const first = sqliteLedger({ file: shared })
    expect(openElsewhere(shared)).toContain(`${shared} is already being written by another process. Stop that one first`)
    await first.close()
    expect(openElsewhere(shared)).toContain('opened')
    const again = sqliteLedger({ file: shared }) // The other process has ended without closing anything.
    await again.close()
  })

  test('is read beside its writer, without a lock', async () => {
    const reader = sqliteReader({ file })
    expect(await reader.head('day/1')).toEqual(await ledger.head('day/1'))
    expect((await reader.streams('day/')).map((head) => head.stream)).toEqual(['day/1', 'day/2'])
    await reader.close()
  })

  test.each([
    ['UPDATE entry SET text = text', 'an entry never changes'],
    ["DELETE FROM entry WHERE stream = 'day/1' AND version = 4", 'an entry never goes'],
    ["INSERT OR REPLACE INTO entry (stream, version, commandId, hash, text) VALUES ('day/1', 5, 'c2', 'h', 't')", 'an entry never goes'],
    ["INSERT INTO entry (stream, version, commandId, hash, text) VALUES ('day/1', 6, 'c9', 'h', 't')", 'only right after the last one'],
    ["INSERT INTO entry (stream, version, commandId, hash, text) VALUES ('day/1', 4, 'c9', 'h', 't')", 'only right after the last one'],
    ["INSERT INTO entry (stream, version, commandId, hash, text) VALUES ('day/2', 2, 'c9', 'h', 't')", 'a sealed stream takes no more'],
    ['UPDATE sealed SET version = 9', 'a seal never changes'],
    ['DELETE FROM sealed', 'a seal never goes'],
  ])('guards itself against %s', async (statement, sentence) => {
    const db = new Database(file)
    db.pragma('recursive_triggers = ON')
    expect(() => db.exec(statement)).toThrow(sentence)
    db.close()
    expect((await ledger.head('day/1')).version).toBe(4)
  })

  test('keeps what it acknowledged when it is closed and opened again', async () => {
    const before = await ledger.streams('')
    await ledger.close()
    ledger = sqliteLedger({ file })
    expect(await ledger.streams('')).toEqual(before)
    expect(await ledger.append('day/1', 4, draft('c2'))).toMatchObject({ toldTwice: true })
  })

  test('answers what was asked for before it is closed, and nothing after', async () => {
    const shortLived = sqliteLedger({ file: join(folder, 'short.sqlite') })
    const asked = shortLived.append('day/1', 0, draft('c1'))
    await shortLived.close()
    expect(await asked).toMatchObject({ toldTwice: false })
    await expect(shortLived.append('day/1', 1, draft('c2'))).rejects.toThrow('the ledger is closed')
  })

  test('shares one transaction, hence one sync, among the entries of one tick, and makes one each of those that come one by one', async () => {
    const counted = join(folder, 'counted.sqlite')
    const busy = sqliteLedger({ file: counted })
    await busy.append('day/0', 0, draft('c1'))
    const before = commitsIn(`${counted}-wal`)
    await Promise.all(Array.from({ length: 20 }, (_, day) => busy.append(`day/${day + 1}`, 0, draft('c1'))))
    expect(commitsIn(`${counted}-wal`) - before).toBe(1)
    for (let version = 1; version <= 5; version++) await busy.append('day/0', version, draft(`c${version + 1}`))
    expect(commitsIn(`${counted}-wal`) - before).toBe(6)
    await busy.close()
  })

  test('keeps its promise although somebody wrote past it', async () => {
    const shared = join(folder, 'past.sqlite')
    const writer = sqliteLedger({ file: shared })
    const first = await writer.append('day/1', 0, draft('c1'))
    if (!('appended' in first)) throw new Error('not appended')
    const { entry, text } = placeAfter({ ...first.appended, sealed: false }, draft('c-past'))
    const db = new Database(shared)
    db.prepare('INSERT INTO entry (stream, version, commandId, hash, text) VALUES (?, ?, ?, ?, ?)').run(
      'day/1',
      2,
      'c-past',
      entry.hash,
      text,
    )
    db.close()
    expect(await writer.append('day/1', 1, draft('c2'))).toMatchObject({ lostRace: { version: 2, hash: entry.hash } })
    expect(await writer.append('day/1', 2, draft('c2'))).toMatchObject({ appended: { version: 3 } })
    await writer.close()
  })

  test('says which entry does not fit when it reads one that was bent', async () => {
    const bent = join(folder, 'bent.sqlite')
    const writer = sqliteLedger({ file: bent })
    for (let version = 0; version < 3; version++) await writer.append('day/1', version, draft(`c${version + 1}`))
    await writer.close()
    const db = new Database(bent)
    db.exec("DROP TRIGGER entryNeverChanges; UPDATE entry SET text = replace(text, 'student-12', 'student-13') WHERE version = 2")
    db.close()
    const reader = sqliteReader({ file: bent })
    const seen: Entry[] = []
    await expect(
      (async () => {
        for await (const entry of reader.read('day/1', 0)) seen.push(entry)
      })(),
    ).rejects.toThrow('entry 2 of day/1 does not have the content that its hash was made over')
    expect(seen.map((entry) => entry.version)).toEqual([1])
    await reader.close()
  })
})

test('the fast hash of the ledger is the hash that evidence makes in a browser', () => {
  const { entry, text } = placeAfter({ stream: 'day/1', version: 4, hash: 'ab'.repeat(32), sealed: false }, draft('c1'))
  expect(entry.hash).toBe(entryHash(entry))
  expect(entry.hash).toBe(digestOfText(text))
})

/** Tries to open the file for writing in a process of its own. */
function openElsewhere(file: string): string {
  const source = `import(${JSON.stringify(fileURLToPath(new URL('./sqlite.ts', import.meta.url)))})
    .then(({ sqliteLedger }) => { sqliteLedger({ file: ${JSON.stringify(file)} }); console.log('opened'); process.exit() })
    .catch((error) => console.log(error.message))`
  const { stdout, stderr } = spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', source], { encoding: 'utf8' })
  return stdout + stderr
}

/** Commits in a write-ahead log: the frames whose header names the size of the database after them (sqlite.org/fileformat.html, section 4.1). */
function commitsIn(wal: string): number {
  const bytes = readFileSync(wal)
  const frame = 24 + bytes.readUInt32BE(8)
  let commits = 0
  for (let at = 32; at + frame <= bytes.length; at += frame) if (bytes.readUInt32BE(at + 4) !== 0) commits++
  return commits
}
