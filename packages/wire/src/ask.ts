import type { NatsConnection } from '@nats-io/transport-node'
import { busy, mostBytes, type Question, Reply } from './question.ts'

/**
 * Asks one of the processes that serve a question. Rejects with what went wrong there, under its name, or with a sentence that says that the
 * outcome is not known: then the same is asked again, under the same command id where it has one.
 */
export async function ask<Asked, Said>(connection: NatsConnection, question: Question<Asked, Said>, asked: Asked): Promise<Said> {
  const words = Buffer.from(JSON.stringify(asked))
  if (words.length > mostBytes) throw new RangeError(`${question.subject} takes ${mostBytes} bytes, and ${words.length} were to be sent`)

  const givesUpAt = performance.now() + question.patienceMs
  for (;;) {
    const reply = await tryOnce(connection, question, words)
    if ('said' in reply) return heard(question, reply.said)
    const { cause } = reply
    if (!mayPass(cause)) throw cause
    if (performance.now() > givesUpAt || connection.isClosed()) throw new OutcomeUnknown(question.subject, cause)
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

/** Nobody answered in time. It may have been done, or not. */
export class OutcomeUnknown extends Error {
  override name = 'OutcomeUnknown'

  constructor(subject: string, cause: unknown) {
    super(`${subject} was not answered, and the outcome is unknown: send it again under the same command id`, { cause })
  }
}

async function tryOnce<Asked, Said>(
  connection: NatsConnection,
  { subject, withinMs }: Question<Asked, Said>,
  words: Uint8Array,
): Promise<{ said: unknown } | { cause: unknown }> {
  let reply
  try {
    const message = await connection.request(subject, words, { timeout: withinMs })
    reply = Reply.parse(message.json())
  } catch (error) {
    // The client says that a request failed; why stands behind it.
    return { cause: error instanceof Error && error.name === 'RequestError' && error.cause ? error.cause : error }
  }
  if ('said' in reply) return { said: reply.said }
  return { cause: Object.assign(new Error(reply.failed.message), { name: reply.failed.name }) }
}

function heard<Asked, Said>({ subject, said }: Question<Asked, Said>, words: unknown): Said {
  const parsed = said.safeParse(words)
  if (!parsed.success) throw new Error(`${subject} was answered in other words: ${parsed.error.issues[0]?.message}`)
  return parsed.data
}

/** Nobody there for the moment, one that ended half-way, a line that is being mended. */
const mayPass = (error: unknown): boolean =>
  error instanceof Error && (error.name === busy || /Timeout|NoResponders|ConnectionError|RequestError|Draining/.test(error.name))
