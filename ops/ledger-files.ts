import {
  closeSync,
  createReadStream,
  createWriteStream,
  existsSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  unlinkSync,
} from 'node:fs'
import { dirname, resolve } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { exportLines, parseLine } from '@musterbook/ledger/export'
import { checkedEntries, importEntries } from '@musterbook/ledger/import'
import { keptHead, type KeptHead } from '@musterbook/ledger/kept-head'
import type { Entry, Ledger, LedgerReader } from '@musterbook/ledger/ledger'
import { linesOf } from '@musterbook/ledger/lines'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { copyWhileRunning, fileFaults } from '@musterbook/ledger/sqlite-check'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { verify } from '@musterbook/ledger/verify'

type Progress = (entries: number) => void

/** Writes an export that is either whole or not there, and closes the reader. */
export async function exportTo(out: string, reader: LedgerReader, progress: Progress): Promise<KeptHead> {
  const unfinished = `${out}.unfinished`
  let kept: KeptHead | undefined
  let entries = 0
  async function* lines() {
    for await (const line of exportLines(reader)) {
      yield `${line}\n`
      progress(++entries)
    }
  }
  async function* watched() {
    let last = ''
    for await (const line of lines()) yield (last = line)
    const parsed = parseLine(last.trimEnd())
    if ('head' in parsed) kept = parsed.head
  }
  try {
    await pipeline(Readable.from(watched()), createWriteStream(unfinished))
    syncToDisk(unfinished)
    renameSync(unfinished, out)
    syncToDisk(dirname(resolve(out)))
    return kept!
  } catch (error) {
    rmSync(unfinished, { force: true })
    throw error
  } finally {
    await reader.close()
  }
}

/** Fills a data folder that has no ledger yet. The export is read through before anything is written, and the ledger appears whole or not at all. */
export async function importFrom(from: string, file: string, progress: Progress): Promise<KeptHead> {
  assertNone(file)
  return fillNew(file, await readThrough(from, progress))
}

/** Fills any other ledger that is empty yet, and closes it. The export is read through before anything is written. */
export async function importInto(ledger: Ledger, from: string, progress: Progress): Promise<KeptHead> {
  try {
    return await importEntries(await readThrough(from, progress), ledger)
  } finally {
    await ledger.close()
  }
}

/** Reads an export once to its end, so that it is known to be whole, and gives it again from its beginning. */
async function readThrough(from: string, progress: Progress): Promise<AsyncGenerator<Entry, KeptHead>> {
  const read = () => checkedEntries(linesOf(bytesOf(from)))
  const check = read()
  let entries = 0
  for (let next = await check.next(); !next.done; next = await check.next()) progress(++entries)
  return read()
}

/** Copies a ledger beside its running server, and does not call it a backup before it has verified the copy against the head that it was made from. */
export async function backUp(file: string, out: string, progress: Progress): Promise<KeptHead> {
  if (existsSync(out)) throw new Error(`${out} exists already; a backup overwrites nothing`)
  const unfinished = `${out}.unfinished`
  rmSync(unfinished, { force: true })
  const running = sqliteReader({ file })
  try {
    const before = keptHead(await running.streams(''))
    await copyWhileRunning(file, unfinished)
    const kept = await verified(unfinished, before, progress)
    syncToDisk(unfinished)
    linkSync(unfinished, out)
    syncToDisk(dirname(resolve(out)))
    return kept
  } finally {
    await running.close()
    for (const rest of ['', '-wal', '-shm']) rmSync(unfinished + rest, { force: true })
  }
}

/**
 * Fills a data folder that has no ledger yet from a verified backup: whole, or each stream up to its last entry recorded at or before `until`
 * (epoch milliseconds). Entry by entry, so that what is restored has been read and chained anew.
 */
export async function restoreFrom(backup: string, file: string, until: number | undefined, progress: Progress): Promise<KeptHead> {
  if (!existsSync(backup)) throw new Error(`there is no backup ${backup}`)
  await verified(backup, undefined, progress)
  const reader = sqliteReader({ file: backup })
  try {
    return await fillNew(file, entriesUntil(reader, until))
  } finally {
    await reader.close()
  }
}

async function* entriesUntil(reader: LedgerReader, until: number | undefined): AsyncGenerator<Entry, KeptHead> {
  const heads = []
  for (const head of await reader.streams('')) {
    let last: Entry | undefined
    for await (const entry of reader.read(head.stream, 0)) {
      if (until !== undefined && entry.recordedAt > until) break
      yield (last = entry)
    }
    if (last) heads.push({ ...head, version: last.version, hash: last.hash, sealed: head.sealed && last.version === head.version })
  }
  return keptHead(heads)
}

async function verified(file: string, before: KeptHead | undefined, progress: Progress): Promise<KeptHead> {
  const reader = sqliteReader({ file })
  const found = await verify(reader, before, progress)
  await reader.close()
  const faults = [...fileFaults(file), ...found.faults]
  if (faults.length > 0) throw new Error(`the copy does not hold: ${faults[0]}`)
  return keptHead(found.heads)
}

async function fillNew(file: string, entries: AsyncGenerator<Entry, KeptHead>): Promise<KeptHead> {
  assertNone(file)
  mkdirSync(dirname(file), { recursive: true })
  const unfinished = `${file}.unfinished`
  removeDatabase(unfinished)
  const ledger = sqliteLedger({ file: unfinished })
  try {
    const kept = await importEntries(entries, ledger)
    await ledger.close()
    linkSync(unfinished, file) // Unlike renaming, it overwrites nothing that came in the meantime.
    unlinkSync(unfinished)
    syncToDisk(dirname(file))
    return kept
  } finally {
    await ledger.close()
    removeDatabase(unfinished)
  }
}

function assertNone(file: string): void {
  if (existsSync(file)) throw new Error(`${file} exists already; this goes into a data folder without a ledger`)
}

/** Opens the file only when somebody reads, so that nothing stays open when nobody does. */
export async function* bytesOf(file: string): AsyncIterable<Uint8Array> {
  yield* createReadStream(file)
}

function removeDatabase(file: string): void {
  for (const rest of ['', '-wal', '-shm', '.writer']) rmSync(file + rest, { force: true })
}

function syncToDisk(path: string): void {
  const handle = openSync(path, 'r')
  fsyncSync(handle)
  closeSync(handle)
}
