/**
 * `npx tsx tests/golden/make.ts muster-2 [muster-2-what-was-added]`: writes the golden ledger of a rule set that is about to be released, once. A released one is never
 * written anew: when its test breaks, the fold of past days has changed, and that is what must be mended. It refuses a file that exists.
 */
import { writeFileSync } from 'node:fs'
import { canonical } from '@musterbook/evidence/canonical'
import { headcountDay, heardByRadioDay, takenOverDay } from './added.ts'
import { goldenDay } from './day.ts'
import { fileOf, recordHash } from './golden.ts'

const [ruleSet = 'muster-1', file = ruleSet] = process.argv.slice(2)
const added = { 'taken-over': takenOverDay, headcount: headcountDay, 'heard-by-radio': heardByRadioDay }
const made = Object.entries(added).find(([what]) => file.endsWith(`-${what}`))?.[1] ?? goldenDay
const entries = made()
const lines = [{ ruleSet, entries: entries.length, recordHash: recordHash(entries) }, ...entries].map((line) => canonical(line))
writeFileSync(fileOf(file), `${lines.join('\n')}\n`, { flag: 'wx' })
console.log(`${entries.length} entries, record ${recordHash(entries)}`)
