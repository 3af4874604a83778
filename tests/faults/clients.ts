import { draft } from '@musterbook/ledger/controls'
import type { Entry, Ledger, LedgerReader, StreamName } from '@musterbook/ledger/ledger'
import type { Told } from './history.ts'

/**
 * A client as a tablet is one: asks for one command after another and, whatever goes wrong, tells the same command again until it is answered.
 * `hear` gets each command twice, when it is first asked for and when it is answered, so that what was under way at a crash is known too.
 */
export async function persistentClient(
  ledger: Ledger,
  stream: StreamName,
  name: string,
  stopped: () => boolean,
  hear: (told: Told) => void,
): Promise<void> {
  let version = (await patiently(() => ledger.head(stream), stopped))?.version ?? 0
  for (let count = 1; !stopped(); count++) {
    const told: Told = { stream, commandId: `${name}-${count}`, askedAt: now() }
    hear(told)
    for (let answered = false; !answered && !stopped();) {
      const answer = await patiently(() => ledger.append(stream, version, draft(told.commandId)), stopped)
      if (!answer) return
      if ('appended' in answer) {
        version = answer.appended.version
        hear({ ...told, acknowledged: { at: now(), version, hash: answer.appended.hash } })
        answered = true
      } else if ('lostRace' in answer) {
        version = answer.lostRace.version
      } else {
        throw new Error(`${told.commandId} was answered ${JSON.stringify(answer)}`)
      }
    }
  }
}

/** Follows one stream until `signal` aborts, and keeps in `hashes` what it is given. */
export async function follow(ledger: Ledger, stream: StreamName, hashes: string[], signal: AbortSignal): Promise<void> {
  for await (const entry of ledger.follow(stream, new Map(), signal)) hashes.push(entry.hash)
}

export async function collect(entries: AsyncIterable<Entry>): Promise<Entry[]> {
  const list: Entry[] = []
  for await (const entry of entries) list.push(entry)
  return list
}

export async function everything(reader: LedgerReader): Promise<Map<StreamName, Entry[]>> {
  const streams = new Map<StreamName, Entry[]>()
  for (const { stream } of await reader.streams('')) streams.set(stream, await collect(reader.read(stream, 0)))
  return streams
}

/** The machine's steady clock, the same for all processes: milliseconds. */
export function now(): number {
  return Number(process.hrtime.bigint()) / 1e6
}

async function patiently<T>(ask: () => Promise<T>, stopped: () => boolean): Promise<T | undefined> {
  while (!stopped()) {
    try {
      return await ask()
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 50))
    }
  }
  return undefined
}
