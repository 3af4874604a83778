import Database from 'better-sqlite3'

export type Connection = Database.Database

/** Below this, a WAL that is reset while another connection writes can corrupt the file (sqlite.org/wal.html#walresetbug). */
const oldestSqlite = [3, 51, 3] as const

/**
 * Entries, and which streams take no more. Triggers guard against our own mistakes; the hash chain is the evidence, since whoever owns the file
 * can drop a trigger. The table keeps its row ids: an entry of 1 kB is too long for an index page of 4 kB. Measured over 40,000 such entries
 * (tests/bench/table-form.ts; with row ids against WITHOUT ROWID): one append 0.12 against 0.17 ms, all in groups of 64 0.95 against 1.8 s,
 * reading all 103 against 99 ms, 60 against 196 MB.
 */
const tables = `
  CREATE TABLE IF NOT EXISTS entry (
    stream TEXT NOT NULL,
    version INTEGER NOT NULL,
    commandId TEXT NOT NULL,
    hash TEXT NOT NULL,
    text TEXT NOT NULL,
    PRIMARY KEY (stream, version),
    UNIQUE (stream, commandId)
  ) STRICT;
  CREATE TABLE IF NOT EXISTS sealed (
    stream TEXT NOT NULL PRIMARY KEY,
    version INTEGER NOT NULL,
    hash TEXT NOT NULL
  ) STRICT;
  CREATE TRIGGER IF NOT EXISTS entryInOrder BEFORE INSERT ON entry
    WHEN NEW.version IS NOT (SELECT coalesce(max(version), 0) + 1 FROM entry WHERE stream = NEW.stream)
    BEGIN SELECT RAISE(ABORT, 'an entry stands only right after the last one of its stream'); END;
  CREATE TRIGGER IF NOT EXISTS entryAfterSeal BEFORE INSERT ON entry WHEN EXISTS (SELECT 1 FROM sealed WHERE stream = NEW.stream)
    BEGIN SELECT RAISE(ABORT, 'a sealed stream takes no more'); END;
  CREATE TRIGGER IF NOT EXISTS entryNeverChanges BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry never changes'); END;
  CREATE TRIGGER IF NOT EXISTS entryNeverGoes BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'an entry never goes'); END;
  CREATE TRIGGER IF NOT EXISTS sealNeverChanges BEFORE UPDATE ON sealed BEGIN SELECT RAISE(ABORT, 'a seal never changes'); END;
  CREATE TRIGGER IF NOT EXISTS sealNeverGoes BEFORE DELETE ON sealed BEGIN SELECT RAISE(ABORT, 'a seal never goes'); END;
`

/** The one connection that writes, its settings read back and its tables in place. Throws with a sentence when the file or SQLite will not do. */
export function openToWrite(file: string): Connection {
  const db = new Database(file)
  try {
    assertSqlite(db)
    db.pragma('journal_mode = WAL')
    // After the journal mode, and said aloud: this build of SQLite falls to NORMAL on a WAL file, which loses acknowledged entries with the power.
    db.pragma('synchronous = FULL')
    settle(db)
    assertSetting(db, 'journal_mode', 'wal')
    assertSetting(db, 'synchronous', 2)
    db.exec(tables)
    return db
  } catch (error) {
    db.close()
    throw error
  }
}

/** A connection that can only read. Throws when there is no such file. */
export function openToRead(file: string): Connection {
  const db = new Database(file, { readonly: true, fileMustExist: true })
  try {
    assertSqlite(db)
    settle(db)
    return db
  } catch (error) {
    db.close()
    throw error
  }
}

/**
 * Keeps every other writer away from `file` until it is closed. The lock is one of the operating system's on a small file beside the ledger: it
 * goes with the process that holds it, even by kill -9, and nothing is left to clean up. Throws with a sentence when somebody else has it.
 */
export function lockForWriting(file: string): Connection {
  const lock = new Database(`${file}.writer`, { timeout: 0 })
  try {
    lock.pragma('journal_mode = MEMORY')
    lock.pragma('locking_mode = EXCLUSIVE')
    lock.exec('BEGIN EXCLUSIVE')
    return lock
  } catch (error) {
    lock.close()
    if ((error as { code?: string }).code !== 'SQLITE_BUSY') throw error
    throw new Error(`${file} is already being written by another process. Stop that one first: a ledger has one writer.`, { cause: error })
  }
}

function settle(db: Connection): void {
  const settings = [
    // Off, INSERT OR REPLACE would delete an entry without firing the trigger that forbids it.
    ['recursive_triggers', 1],
    ['foreign_keys', 1],
    ['busy_timeout', 5000],
    ['trusted_schema', 0],
    ['cell_size_check', 1],
    ['mmap_size', 0],
  ] as const
  for (const [name, value] of settings) {
    db.pragma(`${name} = ${value}`)
    assertSetting(db, name, value)
  }
}

function assertSetting(db: Connection, name: string, value: string | number): void {
  const actual = db.pragma(name, { simple: true }) ?? 0
  if (actual !== value) throw new Error(`SQLite setting ${name} of ${db.name} is ${String(actual)} where the ledger needs ${value}`)
}

function assertSqlite(db: Connection): void {
  const version = db.prepare('SELECT sqlite_version()').pluck().get() as string
  const parts = version.split('.').map(Number)
  const difference = oldestSqlite.map((part, index) => (parts[index] ?? 0) - part).find((part) => part !== 0) ?? 0
  if (difference < 0) throw new Error(`SQLite ${version} can corrupt a ledger; ${oldestSqlite.join('.')} is the oldest that will do`)
}
