import { type ChildProcess, spawn } from 'node:child_process'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import type { Entry, StreamName } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { verify } from '@musterbook/ledger/verify'
import { everything } from './clients.ts'
import { historyFaults, type Told } from './history.ts'
import { type Findings, newFindings, note } from './findings.ts'

/** Kills the writing process without warning, again and again on one file, and looks after each time for everything that it had acknowledged. */
export async function killWriter(folder: string, rounds: number, progress: (round: number) => void): Promise<Findings> {
  const file = join(folder, 'ledger.sqlite')
  const heard = new Map<string, Told>()
  const findings = newFindings()
  for (let round = 1; round <= rounds; round++) {
    const writer = startWriter(file, round, heard)
    await writer.firstAnswer
    await pause(20 + Math.random() * 180)
    writer.process.kill('SIGKILL')
    await writer.ended
    const streams = await inspect(file, heard, findings)
    if (round === rounds) note(findings, { rounds, told: [...heard.values()], streams })
    progress(round)
  }
  return findings
}

/** Stops the writing process in its tracks and lets it go on: it keeps its lock all the while, and loses nothing. */
export async function pauseWriter(folder: string, rounds: number, progress: (round: number) => void): Promise<Findings> {
  const file = join(folder, 'paused.sqlite')
  const heard = new Map<string, Told>()
  const findings = newFindings()
  const writer = startWriter(file, 1, heard)
  await writer.firstAnswer
  for (let round = 1; round <= rounds; round++) {
    writer.process.kill('SIGSTOP')
    try {
      await sqliteLedger({ file }).close()
      findings.faults.push('a second writer was let in while the first was paused')
    } catch (error) {
      if (!(error as Error).message.includes('already being written by another process')) findings.faults.push((error as Error).message)
    }
    const before = heard.size
    await pause(300)
    writer.process.kill('SIGCONT')
    while (heard.size <= before + 10) await pause(10)
    progress(round)
  }
  writer.process.kill('SIGKILL')
  await writer.ended
  note(findings, { rounds, told: [...heard.values()], streams: await inspect(file, heard, findings) })
  return findings
}

function startWriter(file: string, round: number, heard: Map<string, Told>) {
  const script = fileURLToPath(new URL('./writer.ts', import.meta.url))
  const child: ChildProcess = spawn(process.execPath, ['--import', 'tsx', script, file, String(round)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const lines = createInterface({ input: child.stdout! })
  const closed = new Promise<void>((resolve) => lines.once('close', resolve))
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const firstAnswer = new Promise<void>((resolve, reject) => {
    child.once('exit', () => reject(new Error('the writer ended by itself')))
    lines.on('line', (line) => {
      const told = JSON.parse(line) as Told
      heard.set(told.commandId, told)
      if (told.acknowledged) resolve()
    })
  })
  return { process: child, firstAnswer, ended: Promise.all([closed, exited]) }
}

async function inspect(file: string, heard: ReadonlyMap<string, Told>, findings: Findings): Promise<Map<StreamName, Entry[]>> {
  // As the next start of the server would: the write-ahead log is recovered by whoever opens the file to write.
  await sqliteLedger({ file }).close()
  const reader = sqliteReader({ file })
  findings.faults.push(...fileFaults(file), ...(await verify(reader)).faults)
  const streams = await everything(reader)
  findings.faults.push(...historyFaults([...heard.values()], streams))
  await reader.close()
  return streams
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds))
}
