/** Runs where a file may grow to a few hundred kilobytes and no more, so that writing fails as on a broken disk. Prints its findings. */
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { everything, now } from './clients.ts'
import { newFindings, note } from './findings.ts'
import { historyFaults, type Told } from './history.ts'

const file = join(process.argv[2]!, 'failing.sqlite')
const findings = newFindings()
const told: Told[] = []
let stopped = 0
let ledger = sqliteLedger({ file, onStopped: () => stopped++ })
const reasons: string[] = []
for (let count = 0; reasons.length < 3 && count < 5_000; count++) {
  const asked: Told = { stream: 'day/1', commandId: `c${count}`, askedAt: now() }
  try {
    const answer = await ledger.append('day/1', told.length, draft(asked.commandId))
    if (!('appended' in answer)) throw new Error(`unexpected: ${JSON.stringify(answer)}`)
    told.push({ ...asked, acknowledged: { at: now(), version: answer.appended.version, hash: answer.appended.hash } })
  } catch (error) {
    reasons.push((error as Error).message)
    told.push(asked)
  }
}
if (!reasons.every((reason) => reason.includes('the ledger has stopped: writing to the disk failed'))) findings.faults.push(...reasons)
if (reasons.length !== 3) findings.faults.push(`it refused ${reasons.length} times`)
if (stopped !== 1) findings.faults.push(`it said ${stopped} times that it has stopped`)
await ledger.close()
ledger = sqliteLedger({ file })
const streams = await everything(ledger)
findings.faults.push(...historyFaults(told, streams))
await ledger.close()
note(findings, { rounds: 1, told, streams })
console.log(JSON.stringify(findings))
