import { effect, signal, type ReadonlySignal } from '@preact/signals'

/** A view of the site, as last heard. */
export interface LiveView<View> {
  /** Nothing until the first answer. */
  view: ReadonlySignal<View | undefined>
  /** The day version (or whatever the view numbers itself by) of what is shown. */
  version: ReadonlySignal<string | undefined>
  /** Steady milliseconds of when the site was last heard, by view or by beat; nothing while it never was. */
  heardAt: ReadonlySignal<number | undefined>
  /** The browser is trying again. The contact age says more: a stream may be open and silent. */
  trying: ReadonlySignal<boolean>
  /** Whoever may follow has come: a stream that the browser gave up on opens now and not some time later. */
  again(): void
  /** Nothing of what was heard stays here; the whole is asked for anew. */
  forget(): void
  close(): void
}

export interface LiveParts<View> {
  /**
   * Turns what came into the view. `name` is the event's name: `message` replaces the whole, others are differences. Throws where a difference
   * does not follow from what is shown, which is at `version`: then the whole is asked for.
   */
  apply?: (view: View | undefined, data: unknown, name: string, version: string | undefined) => View
  /** Names of differences this view understands. */
  differences?: readonly string[]
  /** The stream broke off: what was heard so far may be old. */
  onLost?: () => void
  /** Injected in tests, and by mounts that keep views elsewhere. */
  path?: (view: string) => string
  open?: (url: string) => EventSource
  steady?: () => number
  /** While true nobody looks: the line is given back, and taken up anew after. */
  resting?: ReadonlySignal<boolean>
  /** After the browser has given up on a stream for good (an answer that is no stream), try anew this much later. */
  againMs?: number
}

/**
 * Follows `GET /api/live/<view>`. The browser itself reconnects and resumes from the last id it heard; only when it gives
 * up for good do we open anew. The site sends a `beat` when nothing else happens, so silence means no contact.
 */
export function follow<View>(name: string, parts: LiveParts<View> = {}): LiveView<View> {
  const {
    apply = (_view, data) => data as View,
    differences = [],
    path = (view) => `/api/live/${view}`,
    open = (url) => new EventSource(url, { withCredentials: true }),
    steady = () => performance.now(),
    againMs = 3_000,
    resting = signal(false),
    onLost = () => {},
  } = parts
  const view = signal<View | undefined>(undefined)
  const version = signal<string | undefined>(undefined)
  const heardAt = signal<number | undefined>(undefined)
  const trying = signal(true)
  let source: EventSource | undefined
  let timer: ReturnType<typeof setTimeout> | undefined
  let closed = false

  const connect = () => {
    source = open(path(name))
    const hear = () => {
      heardAt.value = steady()
      trying.value = false
    }
    source.addEventListener('open', hear)
    source.addEventListener('beat', hear)
    for (const kind of ['message', ...differences])
      source.addEventListener(kind, (event) => {
        const { data, lastEventId } = event as MessageEvent<string>
        hear()
        try {
          view.value = apply(view.peek(), JSON.parse(data), kind, version.peek())
        } catch {
          source?.close()
          return connect()
        }
        if (lastEventId) version.value = lastEventId
      })
    source.addEventListener('error', () => {
      trying.value = true
      onLost()
      if (closed || source?.readyState !== EventSourceClosed) return
      clearTimeout(timer)
      timer = setTimeout(connect, againMs)
    })
  }
  const rest = effect(() => {
    if (!resting.value) return connect()
    clearTimeout(timer)
    source?.close()
  })

  const anew = () => {
    if (closed || resting.peek()) return
    clearTimeout(timer)
    source?.close()
    connect()
  }

  return {
    view,
    version,
    heardAt,
    trying,
    again: () => {
      if (source?.readyState === EventSourceClosed) anew()
    },
    forget: () => {
      view.value = undefined
      version.value = undefined
      anew()
    },
    close: () => {
      closed = true
      rest()
      clearTimeout(timer)
      source?.close()
    },
  }
}

/** `EventSource.CLOSED`, which is not there where tests run. */
const EventSourceClosed = 2
