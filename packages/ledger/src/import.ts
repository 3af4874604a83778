import { chainFault } from '@musterbook/evidence/chain'
import { parseLine } from './export.ts'
import { type KeptHead, keptHead } from './kept-head.ts'
import type { Draft, Entry, Head, Ledger } from './ledger.ts'

/** Entries on their way into a ledger at once: they come in order, and a ledger that groups them needs one sync for all. */
const together = 256

/**
 * Reads an export through and hands its entries on. Throws with a sentence that names the line, at the first one that is not as it was written
 * or does not fit its chain, and when the heads at the end do not fit the entries. Returns those heads.
 */
export async function* checkedEntries(lines: AsyncIterable<string>): AsyncGenerator<Entry, KeptHead> {
  const last = new Map<string, Entry>()
  let head: KeptHead | undefined
  let number = 0
  for await (const line of lines) {
    number++
    if (head) throw new Error(`line ${number} stands after the heads, which end an export`)
    const parsed = parsedLine(line, number)
    if ('head' in parsed) {
      head = parsed.head
    } else {
      const fault = chainFault(last.get(parsed.entry.stream), parsed.entry)
      if (fault) throw new Error(`line ${number}: ${fault}`)
      last.set(parsed.entry.stream, parsed.entry)
      yield parsed.entry
    }
  }
  if (!head) throw new Error(`the export ends after line ${number} without its heads: its tail was cut off`)
  const sealed = new Map(head.heads.map(({ stream, sealed }) => [stream, sealed]))
  const walked = [...last.values()].map(({ stream, version, hash }): Head => ({
    stream,
    version,
    hash,
    sealed: sealed.get(stream) ?? false,
  }))
  if (keptHead(walked).digest !== head.digest) throw new Error('the heads at the end of the export are not those of its entries')
  return head
}

/**
 * Fills an empty ledger of any kind from an export, and seals what was sealed. The heads come out the same, byte for byte, or it throws with a
 * sentence. Check the export first: what was added before a fault stays.
 */
export async function importEntries(entries: AsyncGenerator<Entry, KeptHead>, ledger: Ledger): Promise<KeptHead> {
  if ((await ledger.streams('')).length > 0) throw new Error('this ledger already holds entries; an export is imported into an empty one')
  let group: Promise<void>[] = []
  for (;;) {
    const next = await entries.next()
    if (next.done) {
      await Promise.all(group)
      for (const head of next.value.heads) if (head.sealed) await ledger.seal(head.stream, head)
      const now = keptHead(await ledger.streams(''))
      if (now.digest !== next.value.digest) throw new Error('the imported ledger does not have the heads of the export')
      return now
    }
    const added = add(next.value, ledger)
    added.catch(() => {}) // Heard below; until then nobody waits for it.
    group.push(added)
    if (group.length === together) {
      await Promise.all(group)
      group = []
    }
  }
}

async function add(entry: Entry, ledger: Ledger): Promise<void> {
  const { meta, recordedAt, events } = entry
  const answer = await ledger.append(entry.stream, entry.version - 1, { meta, recordedAt, events } satisfies Draft)
  if (!('appended' in answer) || answer.appended.hash !== entry.hash) {
    throw new Error(`entry ${entry.version} of ${entry.stream} did not come out as it went in`)
  }
}

function parsedLine(line: string, number: number) {
  try {
    return parseLine(line)
  } catch (error) {
    throw new Error(`line ${number} ${(error as Error).message}`, { cause: error })
  }
}
