/** Stand-ins for the edges of a browser, for tests alone. */

/** A stream of server-sent events that the test speaks into. */
export class SpokenStream extends EventTarget {
  readyState = 0
  closed = false
  readonly url: string
  constructor(url: string) {
    super()
    this.url = url
  }
  hear(name: string, data: unknown, id = ''): void {
    this.readyState = 1
    this.dispatchEvent(new MessageEvent(name, { data: JSON.stringify(data), lastEventId: id }))
  }
  /** `forGood`: the browser does not try again by itself. */
  breakOff(forGood: boolean): void {
    this.readyState = forGood ? 2 : 0
    this.dispatchEvent(new Event('error'))
  }
  close(): void {
    this.closed = true
    this.readyState = 2
  }
}

export const json = (status: number, body: unknown) =>
  new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } })
