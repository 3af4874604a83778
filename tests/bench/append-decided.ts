import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { canonical } from '@musterbook/evidence/canonical'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { command, opening, start } from '@musterbook/testday/controls'
import { openTestDay } from '@musterbook/testday/testday'
import { rawTable } from './append-sqlite.ts'
import type { Contest } from './measure.ts'

const dayId = 'skarnvale-2027-05-11'
const pieces = 25

/** One after the other, each through the whole way of a command: queue, decide, durable append, fold, answer. */
export const appendOne: Contest = {
  name: 'appendOne',
  what: 'a command decided and its entry durable in the SQLite ledger, one at a time',
  against: 'raw better-sqlite3 insert of the same entries as ready text, same table and triggers, same durability',
  aim: 0.8,
  better: 'higher',
  unit: 'entries/s',
  turns: 20,
  open: async () => {
    const folder = mkdtempSync(join(tmpdir(), 'bench-'))
    const ledger = sqliteLedger({ file: join(folder, 'ours.sqlite') })
    const testDay = openTestDay({ ledger, clock: { now: () => start }, rehearsalOnly: true, siteHead: async () => 0 })
    const tell = async (act: 'openDay' | 'checkEquipment', body: object) => {
      const answer = await testDay.tell(command(dayId, act, body))
      if (!('recorded' in answer)) throw new Error(`the day did not take it: ${JSON.stringify(answer)}`)
      return answer.recorded.version
    }
    await tell('openDay', opening(dayId, 40))
    const check = { equipmentId: 'watch-1', passed: true, reference: null, read: null }
    const last = await tell('checkEquipment', check)
    const raw = rawTable(join(folder, 'raw.sqlite'), await textOf(ledger, last))
    return {
      ours: async () => {
        for (let count = 0; count < pieces; count++) await tell('checkEquipment', check)
        return pieces
      },
      raw: async () => {
        for (let count = 0; count < pieces; count++) raw.insert(1)
        return pieces
      },
      close: async () => {
        await testDay.close()
        await ledger.close()
        raw.close()
        rmSync(folder, { recursive: true })
      },
    }
  },
}

async function textOf(ledger: ReturnType<typeof sqliteLedger>, version: number): Promise<string> {
  for await (const entry of ledger.read(`day/${dayId}`, version - 1)) return canonical(entry)
  throw new Error(`no entry ${version}`)
}
