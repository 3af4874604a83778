/** Which table form suits entries of about 1 kB: run by hand with `npx tsx tests/bench/table-form.ts` when SQLite or the entries change. */
import { randomBytes } from 'node:crypto'
import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'

const entries = 40_000
const streams = 4
const single = 1_500

const forms = [
  { name: 'rowid, 4 kB pages', suffix: 'STRICT', pageSize: 4096 },
  { name: 'WITHOUT ROWID, 4 kB pages', suffix: 'STRICT, WITHOUT ROWID', pageSize: 4096 },
  { name: 'rowid, 16 kB pages', suffix: 'STRICT', pageSize: 16384 },
  { name: 'WITHOUT ROWID, 16 kB pages', suffix: 'STRICT, WITHOUT ROWID', pageSize: 16384 },
]

interface Figures {
  name: string
  oneP50: number
  oneP99: number
  group64: number
  readAll: number
  integrity: number
  megabytes: number
}

function measure(form: (typeof forms)[number]): Figures {
  const folder = mkdtempSync(join(tmpdir(), 'table-form-'))
  const db = new Database(join(folder, 'ledger.sqlite'))
  try {
    db.pragma(`page_size = ${form.pageSize}`)
    db.pragma('journal_mode = WAL')
    db.pragma('synchronous = FULL')
    db.pragma('recursive_triggers = ON')
    db.exec(`
      CREATE TABLE entry (stream TEXT NOT NULL, version INTEGER NOT NULL, commandId TEXT NOT NULL, hash TEXT NOT NULL, text TEXT NOT NULL,
        PRIMARY KEY (stream, version), UNIQUE (stream, commandId)) ${form.suffix};
      CREATE TRIGGER inOrder BEFORE INSERT ON entry
        WHEN NEW.version IS NOT (SELECT coalesce(max(version), 0) + 1 FROM entry WHERE stream = NEW.stream)
        BEGIN SELECT RAISE(ABORT, 'order'); END;
    `)
    const insert = db.prepare('INSERT INTO entry VALUES (?, ?, ?, ?, ?)')
    const add = (n: number) =>
      insert.run(`day/${n % streams}`, Math.floor(n / streams) + 1, randomBytes(16).toString('hex'), 'h'.repeat(64), 'x'.repeat(1000))
    const addOne = db.transaction(add).immediate
    const addGroup = db.transaction((from: number, to: number) => {
      for (let n = from; n < to; n++) add(n)
    }).immediate

    let next = 0
    const groupsStart = performance.now()
    for (; next < entries; next += 64) addGroup(next, next + 64)
    const group64 = performance.now() - groupsStart
    const times = Array.from({ length: single }, (_, index) => {
      const start = performance.now()
      addOne(next + index)
      return performance.now() - start
    }).sort((a, b) => a - b)
    const readStart = performance.now()
    for (let stream = 0; stream < streams; stream++) {
      const page = db.prepare('SELECT version, text FROM entry WHERE stream = ? AND version > ? ORDER BY version LIMIT 500')
      for (let after = 0, rows = [{ version: 0 }]; rows.length > 0;) {
        rows = page.all(`day/${stream}`, after) as { version: number }[]
        after = rows.at(-1)?.version ?? after
      }
    }
    const readAll = performance.now() - readStart
    const checkStart = performance.now()
    db.pragma('integrity_check')
    const integrity = performance.now() - checkStart
    db.pragma('wal_checkpoint(TRUNCATE)')
    const megabytes = statSync(join(folder, 'ledger.sqlite')).size / 1e6
    return {
      name: form.name,
      oneP50: times[Math.floor(single * 0.5)]!,
      oneP99: times[Math.floor(single * 0.99)]!,
      group64,
      readAll,
      integrity,
      megabytes,
    }
  } finally {
    db.close()
    rmSync(folder, { recursive: true })
  }
}

const rounds = Array.from({ length: 3 }, () => forms.map(measure))
const median = (values: number[]) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!
console.log(`${entries} entries of 1 kB in ${streams} streams; milliseconds, median of ${rounds.length} interleaved rounds`)
console.table(
  forms.map((form, index) => {
    const of = (key: Exclude<keyof Figures, 'name'>) => Number(median(rounds.map((round) => round[index]![key])).toPrecision(3))
    return {
      form: form.name,
      'append 1 p50': of('oneP50'),
      'append 1 p99': of('oneP99'),
      'append all, 64 a group': of('group64'),
      'read all': of('readAll'),
      integrity_check: of('integrity'),
      MB: of('megabytes'),
    }
  }),
)
