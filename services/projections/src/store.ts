import Database from 'better-sqlite3'

/** How far one projection has read one stream, and under which revision of its code. */
export interface Checkpoint {
  readonly projection: string
  readonly stream: string
  readonly version: number
  readonly hash: string
  readonly revision: number
}

export interface Row {
  readonly projection: string
  readonly dayId: string
  readonly key: string
  /** Place in the day at which the row last changed. */
  readonly version: number
  /** JSON. */
  readonly body: string
}

export interface Change {
  readonly puts: readonly Row[]
  readonly drops: readonly Pick<Row, 'projection' | 'dayId' | 'key'>[]
  readonly checkpoints: readonly Checkpoint[]
}

/** The file of the read models: rows and how far they have read, never one without the other. It can be thrown away and built anew. */
export interface Store {
  write(change: Change): void
  row(projection: string, dayId: string, key: string): Row | undefined
  /** Rows of one projection under one key, of every day. */
  rowsUnder(projection: string, key: string): Row[]
  rowsOf(dayId: string): Row[]
  checkpoints(): Checkpoint[]
  /** Forgets a projection, so that it is built from the first entry. */
  forget(projection: string): void
  close(): void
}

const tables = `
  CREATE TABLE IF NOT EXISTS checkpoints (
    projection TEXT NOT NULL, stream TEXT NOT NULL, version INTEGER NOT NULL, hash TEXT NOT NULL, revision INTEGER NOT NULL,
    PRIMARY KEY (projection, stream)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE IF NOT EXISTS rows (
    projection TEXT NOT NULL, dayId TEXT NOT NULL, key TEXT NOT NULL, version INTEGER NOT NULL, body TEXT NOT NULL,
    PRIMARY KEY (projection, dayId, key)
  ) STRICT;
  CREATE INDEX IF NOT EXISTS rowsOfDay ON rows (dayId);
`

export function openStore(file: string): Store {
  const db = new Database(file)
  db.pragma('journal_mode = WAL')
  // After a power cut the newest rows may be missing, checkpoints with them: they are read again from the ledger.
  db.pragma('synchronous = NORMAL')
  db.exec(tables)
  const put = db.prepare('REPLACE INTO rows (projection, dayId, key, version, body) VALUES (?, ?, ?, ?, ?)')
  const drop = db.prepare('DELETE FROM rows WHERE projection = ? AND dayId = ? AND key = ?')
  const checkpoint = db.prepare('REPLACE INTO checkpoints (projection, stream, version, hash, revision) VALUES (?, ?, ?, ?, ?)')
  const one = db.prepare('SELECT * FROM rows WHERE projection = ? AND dayId = ? AND key = ?')
  const under = db.prepare('SELECT * FROM rows WHERE projection = ? AND key = ? ORDER BY dayId')
  const ofDay = db.prepare('SELECT * FROM rows WHERE dayId = ?')
  const allCheckpoints = db.prepare('SELECT * FROM checkpoints')
  const forgetRows = db.prepare('DELETE FROM rows WHERE projection = ?')
  const forgetCheckpoints = db.prepare('DELETE FROM checkpoints WHERE projection = ?')

  return {
    write: db.transaction(({ puts, drops, checkpoints }: Change) => {
      for (const row of drops) drop.run(row.projection, row.dayId, row.key)
      for (const row of puts) put.run(row.projection, row.dayId, row.key, row.version, row.body)
      for (const each of checkpoints) checkpoint.run(each.projection, each.stream, each.version, each.hash, each.revision)
    }).immediate,
    row: (projection, dayId, key) => one.get(projection, dayId, key) as Row | undefined,
    rowsUnder: (projection, key) => under.all(projection, key) as Row[],
    rowsOf: (dayId) => ofDay.all(dayId) as Row[],
    checkpoints: () => allCheckpoints.all() as Checkpoint[],
    forget: db.transaction((projection: string) => {
      forgetRows.run(projection)
      forgetCheckpoints.run(projection)
    }).immediate,
    close: () => {
      db.close()
    },
  }
}
