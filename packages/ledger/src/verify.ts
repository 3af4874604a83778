import { chainFault } from '@musterbook/evidence/chain'
import type { KeptHead } from './kept-head.ts'
import type { Entry, Head, LedgerReader } from './ledger.ts'

export interface Verified {
  readonly heads: readonly Head[]
  readonly entries: number
  /** One sentence for each stream that does not hold, the first entry that does not fit named in it. Empty when everything holds. */
  readonly faults: readonly string[]
}

/**
 * Walks every chain from its first entry, and compares with a head that was kept elsewhere: a chain whose tail was cut, or that was made anew
 * from some entry on, holds in itself, and only the kept head tells. `progress` hears how many entries have been walked.
 */
export async function verify(reader: LedgerReader, kept?: KeptHead, progress: (entries: number) => void = () => {}): Promise<Verified> {
  const faults: string[] = []
  const walked: Head[] = []
  let entries = 0
  for (const head of await headsOf(reader, faults)) {
    const keptHere = kept?.heads.find((other) => other.stream === head.stream)
    let last: Entry | undefined
    let fault: string | undefined
    try {
      for await (const entry of reader.read(head.stream, 0)) {
        fault = chainFault(last, entry) ?? (entry.version === keptHere?.version ? rewritten(entry, keptHere) : undefined)
        if (fault) break
        last = entry
        progress(++entries)
      }
      if (!fault && last?.hash !== head.hash) fault = `${head.stream} ends at entry ${last?.version ?? 0}, its head says ${head.version}`
    } catch (error) {
      fault = `${head.stream} cannot be read after entry ${last?.version ?? 0}: ${(error as Error).message}`
    }
    if (fault) faults.push(fault)
    walked.push(head)
  }
  for (const before of kept?.heads ?? []) {
    const fault = shortened(before, walked)
    if (fault) faults.push(fault)
  }
  return { heads: walked, entries, faults }
}

async function headsOf(reader: LedgerReader, faults: string[]): Promise<Head[]> {
  try {
    return await reader.streams('')
  } catch (error) {
    faults.push(`the streams cannot be listed: ${(error as Error).message}`)
    return []
  }
}

function rewritten(entry: Entry, kept: Head): string | undefined {
  if (entry.hash === kept.hash) return undefined
  return `entry ${entry.version} of ${entry.stream} is not the one that the kept head names: it, or one before it, was written anew`
}

function shortened(kept: Head, heads: readonly Head[]): string | undefined {
  const head = heads.find((other) => other.stream === kept.stream)
  const version = head?.version ?? 0
  if (version < kept.version) return `${kept.stream} ends at entry ${version}; the kept head says ${kept.version}: its tail was cut off`
  if (kept.sealed && version > kept.version) return `${kept.stream} goes on to entry ${version} after it was sealed at ${kept.version}`
  if (kept.sealed && !head?.sealed) return `${kept.stream} was sealed and is not any more`
  return undefined
}
