import { createHash, randomBytes } from 'node:crypto'
import { setMaxListeners } from 'node:events'
import type { DeviceId, PersonId } from '@musterbook/vocabulary/ids'

interface Session {
  personId: PersonId
  deviceId: DeviceId
  /** Steady clock, ms: when hands were last on the screen. */
  touchedAt: number
  ended: AbortController
}
export type Because = 'asked' | 'locked' | 'relief' | 'revoked'

/** Who is signed on where. It lives as long as the process: a restart locks every screen and forgets no device. */
export interface Sessions {
  /** The token for the cookie. Whoever was signed on at this device no longer is: relief is a new sign-on. */
  open(deviceId: DeviceId, personId: PersonId): string
  /** undefined: none, not on this device, or locked since. `touched`: a person's hands caused this request. */
  find(token: string, deviceId: DeviceId, touched: boolean): { personId: PersonId; ended: AbortSignal } | undefined
  close(token: string): void
  /** Aborts when the device is taken out or locked: what it hears without anybody signed on ends with it. */
  listening(deviceId: DeviceId): AbortSignal
  /** A person who left, a device that was taken out. */
  revoke(who: { personId?: PersonId; deviceId?: DeviceId }): void
  /** Locks whatever has been left alone for too long. */
  sweep(): void
}

interface Parts {
  /** Milliseconds of real time. A rehearsal's fast clock is the day's, not that of the hands on the glass. */
  steady: () => number
  lockAfterMs: number
  onEnd: (who: { personId: PersonId; deviceId: DeviceId }, because: Because) => void
}

export function sessions({ steady, lockAfterMs, onEnd }: Parts): Sessions {
  // Only hashes are kept, so that nothing in memory or a dump of it opens a session.
  const open = new Map<string, Session>()
  const listening = new Map<DeviceId, AbortController>()

  const locked = (session: Session) => steady() - session.touchedAt >= lockAfterMs
  const end = (hash: string, because: Because) => {
    const session = open.get(hash)
    if (!session) return
    open.delete(hash)
    session.ended.abort()
    onEnd({ personId: session.personId, deviceId: session.deviceId }, because)
  }
  const endWhere = (because: Because, isIt: (session: Session) => boolean) => {
    for (const [hash, session] of open) if (isIt(session)) end(hash, because)
  }

  return {
    open(deviceId, personId) {
      endWhere('relief', (session) => session.deviceId === deviceId)
      const token = randomBytes(32).toString('base64url')
      const ended = new AbortController()
      setMaxListeners(0, ended.signal) // One for each view that the screen watches.
      open.set(hashOf(token), { personId, deviceId, touchedAt: steady(), ended })
      return token
    },
    find(token, deviceId, touched) {
      const hash = hashOf(token)
      const session = open.get(hash)
      if (!session || session.deviceId !== deviceId) return undefined
      if (locked(session)) {
        end(hash, 'locked')
        return undefined
      }
      if (touched) session.touchedAt = steady()
      return { personId: session.personId, ended: session.ended.signal }
    },
    close: (token) => end(hashOf(token), 'asked'),
    listening(deviceId) {
      const known = listening.get(deviceId) ?? listeningAnew()
      listening.set(deviceId, known)
      return known.signal
    },
    revoke({ personId, deviceId }) {
      endWhere('revoked', (session) => session.personId === personId || session.deviceId === deviceId)
      if (deviceId === undefined) return
      listening.get(deviceId)?.abort()
      listening.delete(deviceId)
    },
    sweep: () => endWhere('locked', locked),
  }
}

function listeningAnew(): AbortController {
  const ended = new AbortController()
  setMaxListeners(0, ended.signal)
  return ended
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex')
