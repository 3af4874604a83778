import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { genesis } from '@musterbook/evidence/chain'
import { placeAfter } from '@musterbook/ledger/entry-text'
import type { Head } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { openToWrite } from '@musterbook/ledger/sqlite-file'
import { kilobyte } from './drafts.ts'
import type { Contest } from './measure.ts'

const group = 64

/** The ledger's own part of `appendOne`, without deciding. */
export const appendLedger: Contest = {
  name: 'appendLedger',
  what: 'durable append to the SQLite ledger, one at a time',
  against: 'raw better-sqlite3 insert of ready text, same table and triggers, same durability',
  aim: 0.8,
  better: 'higher',
  unit: 'entries/s',
  turns: 20,
  open: () => contest(50, 1),
}

export const appendMany: Contest = {
  name: 'appendMany',
  what: 'durable append to the SQLite ledger, 64 callers at once',
  against: 'raw better-sqlite3, 64 inserts a transaction',
  aim: 0.25,
  better: 'higher',
  unit: 'entries/s',
  turns: 20,
  open: () => contest(group * 5, group),
}

async function contest(pieces: number, together: number) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const ledger = sqliteLedger({ file: join(folder, 'ours.sqlite') })
  const raw = rawTable(join(folder, 'raw.sqlite'), oneKilobyte)
  let version = 0
  return {
    ours: async () => {
      for (const end = version + pieces; version < end; version += together) {
        await Promise.all(
          Array.from({ length: together }, (_, index) => ledger.append('day/1', version + index, kilobyte(`c${version + index}`))),
        )
      }
      return pieces
    },
    raw: async () => {
      for (let count = 0; count < pieces; count += together) raw.insert(together)
      return pieces
    },
    close: async () => {
      await ledger.close()
      raw.close()
      rmSync(folder, { recursive: true })
    },
  }
}

const oneKilobyte = placeAfter({ stream: 'day/1', version: 0, hash: genesis, sealed: false } satisfies Head, kilobyte('c1')).text

/** The ledger's own table, filled without the ledger: text and hash are made beforehand and only the key changes. */
export function rawTable(file: string, text: string) {
  const db = openToWrite(file)
  const insert = db.prepare('INSERT INTO entry (stream, version, commandId, hash, text) VALUES (?, ?, ?, ?, ?)')
  let version = 0
  const insertGroup = db.transaction((count: number) => {
    for (let index = 0; index < count; index++) insert.run('day/1', ++version, `c${version}`, genesis, text)
  }).immediate
  return { insert: insertGroup, close: () => db.close() }
}
