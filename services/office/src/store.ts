import Database from 'better-sqlite3'
import type { Keys } from './keys.ts'

export type Store = Database.Database

/** What is personal and stands in no ledger: names, birth dates, photos, PIN hashes, and the words that people typed. A student’s is sealed for that student. */
export const peopleTables = `
  CREATE TABLE IF NOT EXISTS person (personId TEXT PRIMARY KEY, name TEXT NOT NULL, pinHash BLOB, pinSalt BLOB, pinCost INTEGER) STRICT;
  CREATE TABLE IF NOT EXISTS sealedStudent (studentId TEXT PRIMARY KEY, codeMark TEXT NOT NULL UNIQUE, sealed BLOB NOT NULL) STRICT;
  CREATE TABLE IF NOT EXISTS sealedPhoto (
    photoDigest TEXT NOT NULL, studentId TEXT NOT NULL, mediaType TEXT NOT NULL, sealed BLOB NOT NULL, PRIMARY KEY (photoDigest, studentId)
  ) STRICT;
  CREATE TABLE IF NOT EXISTS evidence (photoDigest TEXT PRIMARY KEY, mediaType TEXT NOT NULL, bytes BLOB NOT NULL) STRICT;
  CREATE TABLE IF NOT EXISTS words (textId TEXT PRIMARY KEY, owner TEXT, sealed BLOB NOT NULL) STRICT;
  CREATE TABLE IF NOT EXISTS tries (who TEXT PRIMARY KEY, failures INTEGER NOT NULL, lastAt INTEGER NOT NULL, openAt INTEGER NOT NULL) STRICT;
  CREATE TABLE IF NOT EXISTS device (deviceId TEXT PRIMARY KEY, codeMark TEXT UNIQUE, tokenMark TEXT UNIQUE) STRICT;
  CREATE TABLE IF NOT EXISTS setUp (one INTEGER PRIMARY KEY CHECK (one = 1), codeMark TEXT NOT NULL) STRICT;
`
/** Health answers, notes and reasons: each row sealed, and not even whose it is stands in the open. */
export const medicalTables = `
  CREATE TABLE IF NOT EXISTS item (number INTEGER PRIMARY KEY, itemId TEXT NOT NULL UNIQUE, whose TEXT NOT NULL, sealed BLOB NOT NULL) STRICT;
  CREATE INDEX IF NOT EXISTS itemWhose ON item (whose);
  CREATE TABLE IF NOT EXISTS words (textId TEXT PRIMARY KEY, owner TEXT, sealed BLOB NOT NULL) STRICT;
`
const keyTable = 'CREATE TABLE IF NOT EXISTS keyCheck (one INTEGER PRIMARY KEY CHECK (one = 1), mark TEXT NOT NULL) STRICT'

/** Opens a store that is written to disk before it answers. Throws with a sentence when it belongs to another key file. */
export function openStore(file: string, tables: string, keys: Keys): Store {
  const db = new Database(file)
  try {
    db.pragma('journal_mode = WAL')
    db.pragma('synchronous = FULL')
    db.pragma('foreign_keys = ON')
    db.pragma('trusted_schema = OFF')
    // What is deleted is overwritten: an erased name must not linger in a free page.
    db.pragma('secure_delete = ON')
    db.exec(tables)
    db.exec(keyTable)
    const mark = keys.mark('check', 'musterbook')
    db.prepare('INSERT OR IGNORE INTO keyCheck (one, mark) VALUES (1, ?)').run(mark)
    if (db.prepare('SELECT mark FROM keyCheck').pluck().get() !== mark)
      throw new Error(`${file} was sealed with another key file. Name the key file with which this data folder was started first.`)
    return db
  } catch (error) {
    db.close()
    throw error
  }
}
