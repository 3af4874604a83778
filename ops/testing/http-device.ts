/** One device of a test: its cookies, and the running number of what it tells. */
export interface HttpDevice {
  get(path: string, headers?: Record<string, string>, signal?: AbortSignal): Promise<Response>
  post(path: string, body: unknown): Promise<Response>
  /** An act of a day in a new envelope. */
  tell(dayId: string, noun: string, body: object, countersign?: { personId: string; pin: string }): Promise<Response>
  /** What was told last, once more: as a tablet does that heard no answer. */
  tellAgain(): Promise<Response>
  /** Parses what came back, which must have that status. */
  answer<Body>(response: Response, status: number): Promise<Body>
  readonly cookies: Map<string, string>
  /** The server stands elsewhere now. */
  move(address: string): void
}

export function httpDevice(address: string, clock: () => number): HttpDevice {
  const cookies = new Map<string, string>()
  let server = address
  let sequence = 0
  let last: [path: string, body: unknown] = ['', null]
  const ask = async (path: string, init: RequestInit): Promise<Response> => {
    const cookie = [...cookies].map(([name, value]) => `${name}=${value}`).join('; ')
    const response = await fetch(server + path, { ...init, headers: { ...(init.headers as Record<string, string>), cookie } })
    for (const set of response.headers.getSetCookie()) {
      const [name = '', value = ''] = set.split(';')[0]!.split('=')
      cookies.set(name, value)
    }
    return response
  }
  const post = (path: string, body: unknown) =>
    ask(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) })

  return {
    cookies,
    move: (to) => void (server = to),
    get: (path, headers = {}, signal) => ask(path, { headers, ...(signal && { signal }) }),
    post,
    tell(dayId, noun, body, countersign) {
      sequence += 1
      const envelope = {
        commandId: `told-${Math.random().toString(36).slice(2)}`,
        deviceSequence: sequence,
        occurredAt: clock(),
        steadyMs: sequence,
        offsetMs: 0,
        bandMs: 20,
        seenVersion: 0,
        contactAgeMs: 0,
        decidedOnDevice: false,
      }
      last = [`/api/days/${dayId}/${noun}`, { envelope, body, ...(countersign && { countersign }) }]
      return post(...last)
    },
    tellAgain: () => post(...last),
    async answer<Body>(response: Response, status: number) {
      const text = await response.text()
      if (response.status !== status) throw new Error(`${response.url} answered ${response.status}: ${text}`)
      return JSON.parse(text) as Body
    },
  }
}

/** The events of a live view as they come: `id` and `data`, beats left out. */
export async function* liveEvents(response: Response): AsyncGenerator<{ id: number; data: { version: number; body: unknown } }> {
  const decoder = new TextDecoder()
  let text = ''
  for await (const chunk of response.body as unknown as AsyncIterable<Uint8Array>) {
    text += decoder.decode(chunk, { stream: true })
    for (let end = text.indexOf('\n\n'); end >= 0; end = text.indexOf('\n\n')) {
      const block = text.slice(0, end)
      text = text.slice(end + 2)
      const id = /^id: (.*)$/m.exec(block)?.[1]
      const data = /^data: (.*)$/m.exec(block)?.[1]
      if (id !== undefined && data) yield { id: Number(id), data: JSON.parse(data) as { version: number; body: unknown } }
    }
  }
}
