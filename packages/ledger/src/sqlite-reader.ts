import { assertFollows, BrokenChain, emptyHead, readBack } from './entry-text.ts'
import type { Entry, Head, LedgerReader, StreamName } from './ledger.ts'
import { type Connection, openToRead } from './sqlite-file.ts'

/** Entries read at a time: enough to be quick, few enough that no write waits for a reader. */
const page = 500

interface Row {
  version: number
  commandId: string
  hash: string
  text: string
}

/** Reads a ledger file without ever changing it, beside the process that writes it or alone. */
export function sqliteReader({ file }: { file: string }): LedgerReader {
  return readerOn(openToRead(file))
}

/** The reading half of a ledger on a connection of its own. */
export function readerOn(db: Connection): LedgerReader {
  const readHead = headReader(db)
  const readPage = db.prepare('SELECT version, commandId, hash, text FROM entry WHERE stream = ? AND version > ? ORDER BY version LIMIT ?')
  const readCommand = db.prepare('SELECT version, commandId, hash, text FROM entry WHERE stream = ? AND commandId = ?')
  const readNext = db.prepare('SELECT min(stream) FROM entry WHERE stream > ?').pluck()
  const readFirst = db.prepare('SELECT min(stream) FROM entry WHERE stream >= ?').pluck()

  return {
    async *read(stream, afterVersion) {
      let before: { version: number; hash: string | undefined } = { version: afterVersion, hash: undefined }
      const head = readHead(stream)
      while (before.version < head.version) {
        const rows = readPage.all(stream, before.version, page) as Row[]
        if (rows.length === 0) throw new BrokenChain(`entry ${before.version + 1} of ${stream} is missing`)
        for (const row of rows) {
          const entry = entryOf(stream, row)
          assertFollows(before, entry)
          yield entry
          before = entry
        }
      }
    },
    head: async (stream) => readHead(stream),
    streams: async (prefix) => {
      const heads: Head[] = []
      for (
        let stream = readFirst.get(prefix) as StreamName | null;
        stream?.startsWith(prefix);
        stream = readNext.get(stream) as StreamName | null
      ) {
        heads.push(readHead(stream))
      }
      return heads
    },
    find: async (stream, commandId) => {
      const row = readCommand.get(stream, commandId) as Row | undefined
      return row && entryOf(stream, row)
    },
    close: async () => {
      db.close()
    },
  }
}

/** Where a stream stands, read on this connection. */
export function headReader(db: Connection): (stream: StreamName) => Head {
  const readLast = db.prepare(`
    SELECT version, hash, EXISTS (SELECT 1 FROM sealed WHERE sealed.stream = entry.stream) AS sealed
    FROM entry WHERE stream = ? ORDER BY version DESC LIMIT 1`)
  return (stream) => {
    const last = readLast.get(stream) as { version: number; hash: string; sealed: 0 | 1 } | undefined
    return last ? { stream, version: last.version, hash: last.hash, sealed: last.sealed === 1 } : emptyHead(stream)
  }
}

export function entryOf(stream: StreamName, row: Row): Entry {
  const entry = readBack(row.text, row.hash, stream, row.version)
  if (entry.meta.commandId !== row.commandId)
    throw new BrokenChain(`entry ${row.version} of ${stream} is filed under another command than its own`)
  return entry
}
