import { JetStreamApiCodes, JetStreamApiError, type JetStreamManager, jetstreamManager, StorageType } from '@nats-io/jetstream'
import type { NatsConnection } from '@nats-io/transport-node'

/** How far the centre has copied one stream of a site. */
export interface Mirrored {
  readonly stream: string
  /** What the site has. */
  readonly of: number
  readonly copied: number
}

const prefix = 'musterbook_'

/**
 * Makes a mirror at the centre for each stream of a site that has none yet, and tells how far each has come. A mirror says of itself that it
 * lags by nothing while it is not connected, so the two ends are compared. Rejects while the site is not reached.
 */
export async function mirrorSite(centre: NatsConnection, domain: string, replicas: number): Promise<Mirrored[]> {
  const here = await jetstreamManager(centre)
  const there = await jetstreamManager(centre, { domain })
  const mirrored: Mirrored[] = []
  for await (const stream of there.streams.names()) {
    if (!stream.startsWith(prefix)) continue
    const { state } = await there.streams.info(stream)
    mirrored.push({ stream, of: state.last_seq, copied: await copiedOf(here, domain, stream, replicas) })
  }
  return mirrored
}

async function copiedOf(here: JetStreamManager, domain: string, stream: string, replicas: number): Promise<number> {
  // Sites may have a day of the same name; each site's mirrors carry its name.
  const name = `${domain}_${stream}`
  try {
    return (await here.streams.info(name)).state.last_seq
  } catch (error) {
    if (!(error instanceof JetStreamApiError) || error.code !== JetStreamApiCodes.StreamNotFound) throw error
  }
  const mirror = { name: stream, domain }
  const made = await here.streams.add({
    name,
    mirror,
    storage: StorageType.File,
    num_replicas: replicas,
    deny_delete: true,
    deny_purge: true,
    allow_direct: true,
  })
  return made.state.last_seq
}
