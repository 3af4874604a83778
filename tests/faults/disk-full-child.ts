/** Runs on a disk of a few megabytes, named by its argument: fills it, goes on asking, makes room, and goes on. Prints its findings. */
import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import type { Ledger } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { verify } from '@musterbook/ledger/verify'
import { everything, now } from './clients.ts'
import { newFindings, note } from './findings.ts'
import { historyFaults, type Told } from './history.ts'

const folder = process.argv[2]!
const file = join(folder, 'ledger.sqlite')
const ballast = join(folder, 'ballast')
const told: Told[] = []
const findings = newFindings()
writeFileSync(ballast, Buffer.alloc(1_000_000))

let ledger = sqliteLedger({ file })
const refusals = await appendUntilRefused(ledger, 'before')
if (refusals === 0) findings.faults.push('the disk never filled up')
const acknowledged = told.filter((each) => each.acknowledged).length
await ledger.streams('') // A full disk can still be read.
if ((await ledger.head('day/1')).version !== acknowledged) findings.faults.push('the head is not the last entry that was acknowledged')

rmSync(ballast)
await reopenIfStopped()
for (let count = 0; count < 20; count++) await append(ledger, `after-${count}`)
if (told.filter((each) => each.acknowledged).length < acknowledged + 20) findings.faults.push('with room again, it did not go on')
await ledger.close()
ledger = sqliteLedger({ file })
const streams = await everything(ledger)
findings.faults.push(...fileFaults(file), ...(await verify(ledger)).faults, ...historyFaults(told, streams))
await ledger.close()
note(findings, { rounds: 1, told, streams })
console.log(JSON.stringify(findings))

async function appendUntilRefused(to: Ledger, name: string): Promise<number> {
  let refused = 0
  for (let count = 0; refused < 3 && count < 20_000; count++) if (!(await append(to, `${name}-${count}`))) refused++
  return refused
}

/** Tells one command, once; says whether it was acknowledged. */
async function append(to: Ledger, commandId: string): Promise<boolean> {
  const asked: Told = { stream: 'day/1', commandId, askedAt: now() }
  try {
    const answer = await to.append(
      'day/1',
      (await to.head('day/1')).version,
      draft(commandId, { events: [{ type: 'noted', text: 'x'.repeat(700) }] }),
    )
    if (!('appended' in answer)) throw new Error(JSON.stringify(answer))
    told.push({ ...asked, acknowledged: { at: now(), version: answer.appended.version, hash: answer.appended.hash } })
    return true
  } catch {
    told.push(asked)
    return false
  }
}

/** A full disk is refused entry by entry; only a disk that fails stops the ledger, and then its process starts anew. */
async function reopenIfStopped(): Promise<void> {
  if (await append(ledger, 'probe')) return
  await ledger.close()
  ledger = sqliteLedger({ file })
}
