/** A process that appends without end to the ledger file in its first argument, and says on its output what it asked and what it was told. */
import { writeSync } from 'node:fs'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { persistentClient } from './clients.ts'

const [file, round] = process.argv.slice(2)
if (!file || !round) throw new Error('writer.ts FILE ROUND')
const ledger = sqliteLedger({ file })
await Promise.all(
  Array.from({ length: 6 }, (_, client) =>
    persistentClient(
      ledger,
      `day/${client % 2}`,
      `round-${round}-client-${client}`,
      () => false,
      (told) => writeSync(1, `${JSON.stringify(told)}\n`),
    ),
  ),
)
