import type { Msg, NatsConnection } from '@nats-io/transport-node'
import { busy, mostBytes, type Question, type Reply } from './question.ts'

interface Serving<Asked, Said> {
  /** Each question goes to one of the processes that serve under this name. */
  queue: string
  answer: (asked: Asked) => Promise<Said>
  /** So many questions are worked on at once; those beyond are told to ask again. */
  atOnce?: number
}

export interface Served {
  /** Takes no more questions, and answers those it has. */
  close(): Promise<void>
}

/** Answers a question until it is closed. What was asked is parsed here again: the network is not trusted to carry what was sent. */
export function serve<Asked, Said>(
  connection: NatsConnection,
  question: Question<Asked, Said>,
  { queue, answer, atOnce = 500 }: Serving<Asked, Said>,
): Served {
  const answering = new Set<Promise<void>>()
  const subscription = connection.subscribe(question.subject, {
    queue,
    callback: (error, message) => {
      if (error) return
      const done = replyTo(message).finally(() => answering.delete(done))
      answering.add(done)
    },
  })

  async function replyTo(message: Msg): Promise<void> {
    const reply = answering.size >= atOnce ? failed(busy, 'too much is asked at once') : await replyOf(message)
    const bytes = Buffer.from(JSON.stringify(reply))
    const fits = bytes.length <= mostBytes
    message.respond(fits ? bytes : JSON.stringify(failed('RangeError', `the answer has ${bytes.length} bytes; ${mostBytes} are carried`)))
  }

  async function replyOf(message: Msg): Promise<Reply> {
    try {
      if (message.data.length > mostBytes) return failed('RangeError', `a question has at most ${mostBytes} bytes`)
      const asked = question.asked.safeParse(message.json())
      if (!asked.success) return failed('NotAsAgreed', `${question.subject} was asked in other words: ${asked.error.issues[0]?.message}`)
      return { said: (await answer(asked.data)) ?? null }
    } catch (error) {
      const { name, message: says } = error instanceof Error ? error : new Error(String(error))
      return failed(name, says)
    }
  }

  return {
    async close() {
      if (!connection.isClosed()) await subscription.drain()
      await Promise.all(answering)
      if (!connection.isClosed()) await connection.flush()
    },
  }
}

const failed = (name: string, message: string): Reply => ({ failed: { name: name.slice(0, 100), message: message.slice(0, 1_000) } })
