import { readFileSync } from 'node:fs'
import { parseLine } from '@musterbook/ledger/export'
import type { Entry } from '@musterbook/ledger/ledger'

/** The entries of one stream, as an export holds them. */
export function entriesIn(file: string, stream: string): Entry[] {
  return readFileSync(file, 'utf8')
    .trimEnd()
    .split('\n')
    .flatMap((line) => {
      const parsed = parseLine(line)
      return 'entry' in parsed && parsed.entry.stream === stream ? [parsed.entry] : []
    })
}

/** What is wrong with a record against what its clients were told: acknowledged and not there, there twice, or there at another place. */
export function faultsAgainst(acknowledged: readonly { commandId: string; version: number }[], entries: readonly Entry[]): string[] {
  const places = new Map<string, number[]>()
  for (const { meta, version } of entries) places.set(meta.commandId, [...(places.get(meta.commandId) ?? []), version])
  return [
    ...[...places]
      .filter(([, versions]) => versions.length > 1)
      .map(([commandId, versions]) => `${commandId} stands ${versions.length} times`),
    ...acknowledged
      .filter(({ commandId, version }) => places.get(commandId)?.[0] !== version)
      .map(({ commandId, version }) => `${commandId} was acknowledged at ${version} and stands at ${places.get(commandId) ?? 'none'}`),
  ]
}

/**
 * Guns in a zone over which a hold stood in the record, and that nothing held back. One that cannot be ordered against it is kept as what happened,
 * under the hold.
 */
export function startsUnderHold(entries: readonly Entry[]): Entry[] {
  const standing = new Set<unknown>()
  return entries.filter(({ events }) => {
    const free = events.some((event) => event.type === 'waveStarted' && event['underHold'] === null) && standing.size > 0
    for (const event of events) {
      if (event.type === 'holdRaised') standing.add(event['holdId'])
      if (event.type === 'holdLifted') standing.delete(event['holdId'])
    }
    return free
  })
}
