import {
  DiscardPolicy,
  JetStreamApiCodes,
  JetStreamApiError,
  type JetStreamManager,
  RetentionPolicy,
  StorageType,
  type StreamConfig,
  type StreamInfo,
} from '@nats-io/jetstream'
import { nanos } from '@nats-io/transport-node'
import type { Names } from './jetstream-names.ts'
import type { StreamName } from './ledger.ts'

type Asked = Partial<StreamConfig> & { name: string }

/** One JetStream stream for each stream of ours, with one exact subject: then its sequence is our version. */
export function configFor(names: Names, stream: StreamName, replicas: number): Asked {
  return config(names.stream(stream), names.entries(stream), names.live(stream), replicas)
}

/** Creates the stream, or finds it as it was created before. Throws when any field did not come back as asked. */
export async function create(jsm: JetStreamManager, asked: Asked): Promise<StreamInfo> {
  const info = await jsm.streams.add(asked)
  assertAsAsked(info, asked)
  return info
}

/**
 * Throws with a sentence unless the stream is kept as we ask. A server drops fields that it does not know without a word, and somebody may have
 * changed a stream by hand.
 */
export function assertAsAsked(info: StreamInfo, asked: Asked): void {
  const wrong = Object.entries(asked).filter(([field, value]) => !sameValue(info.config[field as keyof StreamConfig], value))
  if (wrong.length === 0) return
  const [field, value] = wrong[0]!
  const actual = JSON.stringify(info.config[field as keyof StreamConfig])
  throw new Error(
    `the JetStream stream ${asked.name} has ${field} ${actual} where the ledger needs ${JSON.stringify(value)}: correct it, or use a newer server`,
  )
}

/** Asks for a stream like any other of the ledger, so that a cluster that will not give one is known at the start. It stays, empty. */
export async function probeStream(jsm: JetStreamManager, names: Names, replicas: number): Promise<void> {
  const { name, subject, live } = names.probe
  const asked = config(name, subject, live, replicas)
  const info = (await found(jsm, asked)) ?? (await create(jsm, asked))
  const others = info.cluster?.replicas?.length ?? 0
  if (others + 1 !== replicas)
    throw new Error(`the ledger is to have ${replicas} replicas, and JetStream made ${others + 1}: are all servers running?`)
  const { limits, streams } = await jsm.getAccountInfo()
  if (limits.max_streams >= 0 && limits.max_streams < streams + 20) {
    throw new Error(
      `the NATS account may hold ${limits.max_streams} streams and holds ${streams}: every test day needs two more, so raise the limit`,
    )
  }
}

/** A service that only reads may look for the stream, and not make it. */
async function found(jsm: JetStreamManager, asked: Asked): Promise<StreamInfo | undefined> {
  try {
    const info = await jsm.streams.info(asked.name)
    assertAsAsked(info, asked)
    return info
  } catch (error) {
    if (error instanceof JetStreamApiError && error.code === JetStreamApiCodes.StreamNotFound) return undefined
    throw error
  }
}

function config(name: string, subject: string, live: string, replicas: number): Asked {
  return {
    name,
    subjects: [subject],
    retention: RetentionPolicy.Limits,
    storage: StorageType.File,
    num_replicas: replicas,
    // Were a limit ever reached, the new entry is refused: nothing that was acknowledged makes room.
    discard: DiscardPolicy.New,
    max_msgs: -1,
    max_bytes: -1,
    max_age: 0,
    max_msg_size: -1,
    max_msgs_per_subject: -1,
    deny_delete: true,
    deny_purge: true,
    allow_rollup_hdrs: false,
    allow_direct: true,
    // We send no message ids, so the server need not remember any.
    duplicate_window: nanos(100),
    republish: { src: subject, dest: live },
  }
}

function sameValue(actual: unknown, asked: unknown): boolean {
  if (typeof asked !== 'object' || asked === null) return (actual ?? absent(asked)) === asked
  return Object.entries(asked).every(([key, value]) => sameValue((actual as Record<string, unknown> | undefined)?.[key], value))
}

/** The server leaves out what is false or nought. */
function absent(asked: unknown): unknown {
  return asked === false ? false : asked === 0 ? 0 : undefined
}
