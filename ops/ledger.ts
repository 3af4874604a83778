/** `npm run -s ledger -- verify | head | export | import | backup | restore`: the record, checked and carried without the server. */
import { ledgerCommand } from './ledger-command.ts'

process.exitCode = await ledgerCommand(process.argv.slice(2), {
  out: (line) => process.stdout.write(`${line}\n`),
  trouble: (line) => process.stderr.write(`${line}\n`),
})
