/** Appends to the ledger in the folder of its argument and notes each command, and each answer, in the same record as the preloaded recorder. */
import { openSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { now } from './clients.ts'
import type { Told } from './history.ts'
import { toldRecord } from './power-loss-record.ts'

const record = openSync(process.env.RECORD!, 'a')
const note = (told: Told) => writeSync(record, toldRecord(told))
const ledger = sqliteLedger({ file: join(process.argv[2]!, 'power.sqlite') })
for (let version = 0, count = 0; count < 700; count++) {
  // Mostly one at a time, now and then a few together, on two days; so that the log is checkpointed and begun anew on the way.
  const together = count % 10 === 0 ? 5 : 1
  const base = version
  await Promise.all(
    Array.from({ length: together }, async (_, index) => {
      const told: Told = { stream: 'day/1', commandId: `c${count}-${index}`, askedAt: now() }
      note(told)
      const answer = await ledger.append(
        'day/1',
        base + index,
        draft(told.commandId, { events: [{ type: 'noted', text: 'x'.repeat(500) }] }),
      )
      if (!('appended' in answer)) throw new Error(JSON.stringify(answer))
      note({ ...told, acknowledged: { at: now(), version: answer.appended.version, hash: answer.appended.hash } })
    }),
  )
  version += together
}
process.exit() // Without closing, as the power would go.
