import { headReader } from './sqlite-reader.ts'
import { type Connection, openToRead } from './sqlite-file.ts'

/**
 * What is wrong with a ledger file below its entries: pages, indexes, seals without their stream. SQLite's own check looks at the structure
 * alone, so a changed letter inside an entry passes it and only the chain finds it: ask both.
 */
export function fileFaults(file: string): string[] {
  let db: Connection | undefined
  try {
    db = openToRead(file)
    const structure = (db.pragma('integrity_check') as { integrity_check: string }[]).map((row) => row.integrity_check)
    return [...structure.filter((line) => line !== 'ok').map((line) => `the file is damaged: ${line}`), ...sealFaults(db)]
  } catch (error) {
    return [`the file cannot be read: ${(error as Error).message}`]
  } finally {
    db?.close()
  }
}

function sealFaults(db: Connection): string[] {
  const readHead = headReader(db)
  const seals = db.prepare('SELECT stream, version, hash FROM sealed').all() as { stream: string; version: number; hash: string }[]
  return seals.flatMap(({ stream, version, hash }) => {
    const head = readHead(stream)
    return head.version === version && head.hash === hash ? [] : [`${stream} was sealed at entry ${version} and ends at ${head.version}`]
  })
}

/** Copies a ledger file page by page while its server goes on writing; the copy is one consistent moment. It is not verified yet. */
export async function copyWhileRunning(file: string, copy: string): Promise<void> {
  const db = openToRead(file)
  try {
    await db.backup(copy)
  } finally {
    db.close()
  }
}
