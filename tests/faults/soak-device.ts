import { appendFileSync, existsSync, readFileSync } from 'node:fs'
import { request, type ClientRequest } from 'node:http'
import { acts } from '@musterbook/vocabulary/acts'
import type { Envelope } from '@musterbook/vocabulary/envelope'
import type { CommandId } from '@musterbook/vocabulary/ids'
import type { Observation } from './soak-script.ts'

interface Answer {
  status: number
  body: Record<string, unknown>
}

/** When a line is cut, if it is: before anything, in the middle of the words, once they are out, or as the answer begins. */
export type Cut = 'beforeSending' | 'halfway' | 'afterSending' | 'asAnswered' | 'never'

/** What a device keeps through its own end: a line for each observation, and one for each that is in the record. */
export class Outbox {
  readonly #file: string
  readonly #unsent = new Map<string, Observation>()
  #sequence = 0

  /** Reads what was kept; a device that starts again goes on from there. */
  constructor(file: string) {
    this.#file = file
    const lines = existsSync(file) ? readFileSync(file, 'utf8').trimEnd().split('\n').filter(Boolean) : []
    for (const line of lines) {
      const { kept, done } = JSON.parse(line) as { kept?: Observation; done?: string }
      if (done !== undefined) this.#unsent.delete(done)
      if (!kept) continue
      this.#unsent.set(kept.envelope.commandId, kept)
      this.#sequence = kept.envelope.deviceSequence
    }
  }

  get nextSequence(): number {
    return this.#sequence + 1
  }

  get unsent(): readonly Observation[] {
    return [...this.#unsent.values()]
  }

  keep(observation: Observation): void {
    appendFileSync(this.#file, `${JSON.stringify({ kept: observation })}\n`)
    this.#unsent.set(observation.envelope.commandId, observation)
    this.#sequence = observation.envelope.deviceSequence
  }

  isInTheRecord(commandId: string): void {
    appendFileSync(this.#file, `${JSON.stringify({ done: commandId })}\n`)
    this.#unsent.delete(commandId)
  }
}

/** A clock that is wrong, and jumps: by its own hand, never the machine's. */
export class WrongClock {
  #ahead: number
  readonly #begun: number

  constructor(ahead: number) {
    this.#ahead = ahead
    this.#begun = performance.now()
  }

  jump(by: number): void {
    this.#ahead += by
  }

  stamp(deviceId: string, deviceSequence: number, contactAgeMs: number): Envelope {
    return {
      commandId: `${deviceId}-${deviceSequence}` as CommandId,
      deviceSequence,
      occurredAt: Date.now() + this.#ahead,
      steadyMs: Math.floor(performance.now() - this.#begun),
      offsetMs: this.#ahead,
      bandMs: 250,
      seenVersion: 0,
      contactAgeMs,
      decidedOnDevice: contactAgeMs > 0,
    }
  }
}

/** The lines of one device. They end with it. */
export class Lines {
  readonly #open = new Set<ClientRequest>()

  /** Sends an observation on a line of its own. undefined: no answer was heard. */
  send({ dayId, act, body, envelope }: Observation, where: { address: string; cookie: string }, cut: Cut): Promise<Answer | undefined> {
    const text = Buffer.from(JSON.stringify({ envelope, body }))
    const headers = { 'content-type': 'application/json', 'content-length': text.length, cookie: where.cookie }
    return new Promise((resolve) => {
      const asked = request(`${where.address}/api/days/${dayId}/${acts[act].noun}`, {
        method: 'POST',
        agent: false,
        headers,
        timeout: 20_000,
      })
      this.#open.add(asked)
      asked.on('close', () => {
        this.#open.delete(asked)
        resolve(undefined)
      })
      asked.on('error', () => {})
      asked.on('timeout', () => asked.destroy())
      asked.on('response', (response) => {
        if (cut === 'asAnswered') return void asked.destroy()
        const parts: Buffer[] = []
        response.on('data', (part: Buffer) => parts.push(part))
        response.on('end', () => {
          const said = Buffer.concat(parts).toString()
          resolve({ status: response.statusCode ?? 0, body: said === '' ? {} : (JSON.parse(said) as Record<string, unknown>) })
        })
        response.on('error', () => {})
      })
      if (cut === 'beforeSending') return void asked.on('socket', (socket) => socket.once('connect', () => asked.destroy()))
      if (cut === 'halfway') return void asked.write(text.subarray(0, text.length / 2), () => asked.destroy())
      asked.end(text, () => cut === 'afterSending' && asked.destroy())
    })
  }

  cutAll(): void {
    for (const asked of this.#open) asked.destroy()
  }
}
