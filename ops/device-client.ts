import { deviceCookie } from '@musterbook/gateway/http/who'
import type { ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import type { Envelope } from '@musterbook/vocabulary/envelope'
import type { CommandId } from '@musterbook/vocabulary/ids'

/** What came back over the wire: the status and the body as they are. */
export interface Heard {
  status: number
  body: Record<string, unknown>
}

/** One device as the site sees it: cookies, a running number, and the public API alone. Used by the demonstration and by tests. */
export class DeviceClient {
  address: string
  readonly name: string
  private readonly cookies = new Map<string, string>()
  private readonly now: () => number
  private sequence = 0
  private readonly bandMs: number
  private readonly triesAtMost: number

  /** By default it asks for about a minute before it gives up. */
  constructor(address: string, name: string, now: () => number, bandMs = 20, triesAtMost = 240) {
    this.address = address
    this.name = name
    this.now = now
    this.bandMs = bandMs
    this.triesAtMost = triesAtMost
  }

  async enrol(code: string): Promise<void> {
    await this.must('POST', '/api/devices/enrolment', { code })
  }

  /** The office desk is enrolled by the set-up itself: this is what its cookie carries. */
  takeToken(token: string): void {
    this.cookies.set(deviceCookie, token)
  }

  async signOn(personId: string, pin: string): Promise<void> {
    await this.must('POST', '/api/session', { personId, pin })
  }

  /** Where a browser would have them: for handing this device to a person. */
  cookieHeader(): string {
    return [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ')
  }

  stamp(at = this.now()): Envelope {
    this.sequence += 1
    return {
      commandId: `${this.name.replaceAll(/[^A-Za-z0-9]/g, '')}-${this.sequence}-${Math.floor(at)}` as CommandId,
      deviceSequence: this.sequence,
      occurredAt: Math.floor(at),
      steadyMs: Math.floor(at),
      offsetMs: 0,
      bandMs: this.bandMs,
      seenVersion: 0,
      contactAgeMs: 0,
      decidedOnDevice: false,
    }
  }

  /** Tells the day. A lost answer is asked for again with the same envelope until it comes. */
  async tell(
    dayId: string,
    act: ActName,
    body: object,
    more: { envelope?: Envelope; countersign?: { personId: string; pin: string } } = {},
  ): Promise<Heard> {
    const envelope = more.envelope ?? this.stamp()
    const sent = { envelope, body, ...(more.countersign && { countersign: more.countersign }) }
    return this.insist('POST', `/api/days/${dayId}/${acts[act].noun}`, sent)
  }

  get = (path: string): Promise<Heard> => this.insist('GET', path)
  post = (path: string, body: unknown): Promise<Heard> => this.insist('POST', path, body)

  private async must(method: string, path: string, body: unknown): Promise<Heard> {
    const heard = await this.insist(method, path, body)
    if (heard.status >= 300)
      throw new Error(`${this.name}: ${method} ${path} answered ${heard.status} ${JSON.stringify(heard.body).slice(0, 300)}`)
    return heard
  }

  private async insist(method: string, path: string, body?: unknown): Promise<Heard> {
    for (let tries = 1; ; tries++) {
      try {
        return await this.once(method, path, body)
      } catch (error) {
        if (tries >= this.triesAtMost) throw new Error(`${this.name}: the site was not reached`, { cause: error })
        await new Promise((resolve) => setTimeout(resolve, 250))
      }
    }
  }

  private async once(method: string, path: string, body?: unknown): Promise<Heard> {
    const answer = await fetch(this.address + path, {
      method,
      headers: { cookie: this.cookieHeader(), ...(body !== undefined && { 'content-type': 'application/json' }) },
      ...(body !== undefined && { body: JSON.stringify(body) }),
      signal: AbortSignal.timeout(30_000),
    })
    for (const cookie of answer.headers.getSetCookie()) {
      const [pair = ''] = cookie.split(';')
      const cut = pair.indexOf('=')
      this.cookies.set(pair.slice(0, cut), pair.slice(cut + 1))
    }
    const text = await answer.text()
    if (answer.status >= 502 && answer.status <= 504) throw new Error(`answered ${answer.status}`)
    return { status: answer.status, body: text === '' ? {} : (JSON.parse(text) as Record<string, unknown>) }
  }
}
