/** Below this a cluster can lose acknowledged messages when its members change or one of its files is damaged. */
export const oldestServer = '2.12.3'

export function tooOld(version: string | undefined): boolean {
  const parts = (version ?? '0').split(/[.-]/).map(Number)
  const difference = oldestServer.split('.').map((part, index) => (parts[index] || 0) - Number(part))
  return (difference.find((part) => part !== 0) ?? 0) < 0
}

interface Varz {
  readonly server_id?: string
  readonly server_name?: string
  readonly version?: string
  readonly jetstream?: { readonly config?: { readonly sync_always?: boolean } }
}

interface Jsz {
  readonly meta_cluster?: { readonly cluster_size?: number }
}

/**
 * Asks every server on its monitoring address whether it can keep a ledger. The client protocol does not tell whether a server syncs before it
 * acknowledges, and by default it does not for two minutes: so what is not seen here is refused. Throws with a sentence that says what to change.
 */
export async function probeServers(monitors: readonly string[], replicas: number): Promise<void> {
  if (monitors.length === 0)
    throw new Error('name the monitoring address of every NATS server (http: in its configuration): each is asked whether it syncs')
  const seen = new Set<string>()
  let clusterSize = 1
  for (const monitor of monitors) {
    const varz = await ask<Varz>(monitor, '/varz')
    const jsz = await ask<Jsz>(monitor, '/jsz')
    const name = `the NATS server ${varz.server_name ?? ''} at ${monitor}`
    if (tooOld(varz.version))
      throw new Error(`${name} is version ${varz.version ?? 'unknown'}; ${oldestServer} is the oldest that can keep a ledger`)
    if (!varz.jetstream?.config) throw new Error(`${name} has no JetStream: add a jetstream block to its configuration`)
    if (varz.jetstream.config.sync_always !== true) {
      throw new Error(`${name} acknowledges before it has synced to disk: set sync_interval: always in its jetstream block and restart it`)
    }
    seen.add(varz.server_id ?? monitor)
    clusterSize = Math.max(clusterSize, jsz.meta_cluster?.cluster_size ?? 1)
  }
  if (seen.size < clusterSize) {
    throw new Error(
      `the NATS cluster has ${clusterSize} servers and the settings name the monitoring addresses of ${seen.size}: name all of them`,
    )
  }
  if (clusterSize < replicas) throw new Error(`the ledger is to have ${replicas} replicas, and the NATS cluster has ${clusterSize} servers`)
}

async function ask<T>(monitor: string, path: string): Promise<T> {
  const address = new URL(path, monitor)
  try {
    const response = await fetch(address, { signal: AbortSignal.timeout(5_000) })
    if (!response.ok) throw new Error(`it answered ${response.status}`)
    return (await response.json()) as T
  } catch (error) {
    throw new Error(
      `the NATS monitoring address ${address.href} does not answer (${(error as Error).message}): start that server or correct the address`,
      {
        cause: error,
      },
    )
  }
}
