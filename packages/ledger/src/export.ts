import { canonical } from '@musterbook/evidence/canonical'
import { type KeptHead, keptHead } from './kept-head.ts'
import type { Entry, Head, LedgerReader } from './ledger.ts'

/** Names and versions what a line holds. A new form gets a new number; this one never changes. */
const entryType = 'musterbook.entry.v1'
const headType = 'musterbook.head.v1'

/** What one line of an export says, read back. */
export type ExportLine = { readonly entry: Entry } | { readonly head: KeptHead }

/**
 * The whole ledger as lines, each a CloudEvents 1.0 event in JSON format: every stream by name with its entries in order, then one line with the
 * heads of all. The same ledger always gives the same bytes.
 */
export async function* exportLines(reader: LedgerReader): AsyncIterable<string> {
  const heads = await reader.streams('')
  for (const head of heads) {
    for await (const entry of reader.read(head.stream, 0)) {
      if (entry.version > head.version) break // Added since the heads were read.
      yield entryLine(entry)
    }
  }
  yield headLine(keptHead(heads))
}

/**
 * Reads one line back. Throws with a sentence unless it is, byte for byte, what an export would have written for what it says: so no letter of
 * it can change unseen, not even in a part that the chain does not cover.
 */
export function parseLine(line: string): ExportLine {
  const event = parseJson(line) as Partial<CloudEvent> | undefined
  if (event?.type === entryType) {
    const entry = asEntry(event)
    if (entry && entryLine(entry) === line) return { entry }
  }
  if (event?.type === headType) {
    const head = asHead(event)
    if (head && headLine(head) === line) return { head }
  }
  throw new Error('is not what an export writes')
}

interface CloudEvent {
  readonly specversion: '1.0'
  readonly id: string
  readonly source: string
  readonly type: string
  readonly datacontenttype: 'application/json'
  readonly data: unknown
}

/** Source and id together name an entry, as CloudEvents asks; `sequence` is its documented extension, the other two are the chain's. */
function entryLine({ stream, version, prevHash, hash, ...data }: Entry): string {
  return canonical({
    specversion: '1.0',
    id: String(version),
    source: sourceOf(stream),
    type: entryType,
    subject: data.meta.command,
    time: new Date(data.recordedAt).toISOString(),
    datacontenttype: 'application/json',
    sequence: String(version),
    prevhash: prevHash,
    hash,
    data,
  })
}

function headLine(head: KeptHead): string {
  return canonical({
    specversion: '1.0',
    id: head.digest,
    source: 'urn:musterbook:ledger',
    type: headType,
    datacontenttype: 'application/json',
    data: head,
  })
}

/** A stream's name as a URI, nothing lost: `urn:musterbook:stream:day/lark-7`. */
function sourceOf(stream: string): string {
  return `urn:musterbook:stream:${stream.split('/').map(encodeURIComponent).join('/')}`
}

function asEntry(event: Partial<CloudEvent> & { prevhash?: string; hash?: string }): Entry | undefined {
  try {
    const stream = decodeURIComponent(event.source!.replace('urn:musterbook:stream:', ''))
    const data = event.data as Pick<Entry, 'meta' | 'recordedAt' | 'events'>
    return { ...data, stream, version: Number(event.id), prevHash: event.prevhash!, hash: event.hash! }
  } catch {
    return undefined
  }
}

function asHead(event: Partial<CloudEvent>): KeptHead | undefined {
  const heads = (event.data as Partial<KeptHead> | undefined)?.heads
  return Array.isArray(heads) ? keptHead(heads as Head[]) : undefined
}

function parseJson(line: string): unknown {
  try {
    return JSON.parse(line)
  } catch {
    return undefined
  }
}
