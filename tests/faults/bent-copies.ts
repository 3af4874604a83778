import { copyFileSync, existsSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import { keptHead } from '@musterbook/ledger/kept-head'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { verify } from '@musterbook/ledger/verify'
import { everything } from './clients.ts'
import { type Findings, newFindings } from './findings.ts'

export interface BentFindings extends Findings {
  found: number
  harmless: number
}

/**
 * Flips one bit, or cuts the end off, in copies of a ledger and its write-ahead log, and asks for one of two things: the verifier finds it (against
 * the head that was kept), or every entry still reads back byte for byte. `random` gives numbers from 0 to below 1.
 */
export async function bentCopies(
  folder: string,
  rounds: number,
  random: () => number,
  progress: (round: number) => void,
): Promise<BentFindings> {
  const original = join(folder, 'original.sqlite')
  const findings: BentFindings = { ...newFindings(), rounds, found: 0, harmless: 0 }
  const ledger = sqliteLedger({ file: original })
  for (let version = 0; version < 60; version++) await ledger.append(`day/${version % 3}`, Math.floor(version / 3), draft(`c${version}`))
  await ledger.seal('day/2', await ledger.head('day/2'))
  await checkpointHalf(original)
  for (let version = 20; version < 40; version++) await ledger.append('day/1', version, draft(`d${version}`))
  const head = keptHead(await ledger.streams(''))
  const before = JSON.stringify([...(await everything(ledger))])

  const copy = join(folder, 'copy.sqlite')
  for (let round = 1; round <= rounds; round++) {
    remove(copy)
    for (const part of ['', '-wal']) copyFileSync(original + part, copy + part)
    const what = bend(copy + (random() < 0.5 ? '' : '-wal'), random)
    if (await foundIn(copy, head)) findings.found++
    else if (await readsBack(copy, before)) findings.harmless++
    else findings.faults.push(`${what} was not found, and the entries read back otherwise`)
    if (round % 100 === 0) progress(round)
  }
  remove(copy)
  await ledger.close()
  findings.also = `${findings.found} were found, ${findings.harmless} read back byte for byte`
  return findings
}

/** So that part of the entries stands in the file itself and part in its log. */
async function checkpointHalf(file: string): Promise<void> {
  const { default: Database } = await import('better-sqlite3')
  const db = new Database(file)
  db.pragma('wal_checkpoint(TRUNCATE)')
  db.close()
}

function bend(file: string, random: () => number): string {
  const bytes = readFileSync(file)
  const at = Math.floor(random() * bytes.length)
  if (random() < 0.2) {
    truncateSync(file, at)
    return `${file} cut to ${at} bytes`
  }
  const bit = Math.floor(random() * 8)
  bytes[at]! ^= 1 << bit
  writeFileSync(file, bytes)
  return `bit ${bit} of byte ${at} of ${file}`
}

async function foundIn(copy: string, head: ReturnType<typeof keptHead>): Promise<boolean> {
  if (fileFaults(copy).length > 0) return true
  const reader = sqliteReader({ file: copy })
  const { faults } = await verify(reader, head)
  await reader.close()
  return faults.length > 0
}

async function readsBack(copy: string, before: string): Promise<boolean> {
  const reader = sqliteReader({ file: copy })
  const after = JSON.stringify([...(await everything(reader))])
  await reader.close()
  return after === before
}

function remove(file: string): void {
  for (const part of ['', '-wal', '-shm']) if (existsSync(file + part)) rmSync(file + part)
}
