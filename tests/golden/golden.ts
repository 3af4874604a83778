import { readFileSync } from 'node:fs'
import { dayId } from '@musterbook/day/controls'
import type { DayEntry } from '@musterbook/day/evolve'
import { digestOfText } from '@musterbook/evidence/canonical'
import { recordBytesOf } from '@musterbook/replay/compare'

/** First line of a golden file: what the entries after it must fold to. */
interface Head {
  ruleSet: string
  entries: number
  recordHash: string
}

export const fileOf = (ruleSet: string): URL => new URL(`./${ruleSet}.jsonl`, import.meta.url)

/** SHA-256 of the canonical records of everybody, as the whole day and what came after its seal make them. */
export const recordHash = (entries: readonly DayEntry[]): string => digestOfText(recordBytesOf(dayId, entries))

export function readGolden(ruleSet: string): { head: Head; entries: DayEntry[] } {
  const [head, ...entries] = readFileSync(fileOf(ruleSet), 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as unknown)
  return { head: head as Head, entries: entries as DayEntry[] }
}
