/** How screens speak to the site: one act at a time, one typed answer each. */

import type { Envelope } from '@musterbook/vocabulary/envelope'
import type { CommandId } from '@musterbook/vocabulary/ids'
import type { Refusal } from '@musterbook/vocabulary/refusals'
import type { Clock } from './clock.ts'

/** A "no" as it came over the wire. A newer site may know rules that this screen does not: it sends the sentences along. */
export type HeardRefusal = Pick<Refusal, 'params' | 'says' | 'next' | 'who'> & { rule: string }

/** RFC 9457. Members that a reader does not know are kept, not dropped. */
export interface Problem {
  type?: string
  title?: string
  status?: number
  detail?: string
  [member: string]: unknown
}

export type Outcome<Body = unknown> =
  /** The site acknowledged it: it is in the record. */
  | { said: 'recorded'; body: Body }
  /** A permission was not given. The refusal itself is in the record. */
  | { said: 'refused'; refusal: HeardRefusal; body: unknown }
  /** Nobody is signed on here, or no longer. */
  | { said: 'notSignedOn' }
  /** The role of whoever is signed on does not include this. */
  | { said: 'notYours'; problem: Problem }
  /** It is not there, or has changed since this screen read it. */
  | { said: 'notThere'; problem: Problem }
  | { said: 'changedSince'; problem: Problem }
  /** The site could not read what we sent: an old screen, or our fault. */
  | { said: 'notUnderstood'; problem: Problem }
  /** The site is there and broke a promise of its own. */
  | { said: 'broken'; problem: Problem }
  /** Not reached. It may or may not have arrived: sending the same command id again is harmless. */
  | { said: 'noContact' }
  /** Out of contact: it stands on this device, decided here where that was needed, and is told later. */
  | { said: 'kept' }
  /** Neither in the record nor on this device, which can keep nothing: whoever stands here writes it down. */
  | { said: 'notKept' }

/** It stands: in the record, or on this device until it is told. */
export const stands = ({ said }: Outcome): boolean => said === 'recorded' || said === 'kept'

export interface Api {
  get<Body>(path: string): Promise<Outcome<Body>>
  /** POST as it stands, without an envelope: sign-on, office work. */
  post<Body>(path: string, body: unknown): Promise<Outcome<Body>>
  /** DELETE. */
  remove(path: string): Promise<Outcome>
  /** An act of the day: `POST /api/days/:dayId/<noun>`, in an envelope stamped now unless one is handed in: the same one again tells it twice, harmlessly. */
  act<Body>(dayId: string, noun: string, body: object, envelope?: Envelope): Promise<Outcome<Body>>
  /** An envelope stamped now. Made when the person acts, not when the network is ready. */
  stamp(): Envelope
}

export interface ApiParts {
  clock: Clock
  /** The next number of this device; the caller keeps it in durable storage. */
  nextSequence: () => number
  /** The day version on the screen; 0 while it shows none. */
  seenVersion: () => number
  /** How long ago the site was last heard; 0 while in contact. */
  contactAgeMs: () => number
  /** Where acts go. Injected, so that a test or another mount can move them. */
  dayPath?: (dayId: string, noun: string) => string
  /** How envelope and body travel together. */
  wrap?: (envelope: Envelope, body: object) => unknown
  fetch?: typeof fetch
  newId?: () => string
  /** Longer than this is no contact. */
  patienceMs?: number
}

export function openApi(parts: ApiParts): Api {
  const {
    clock,
    nextSequence,
    seenVersion,
    contactAgeMs,
    dayPath = (dayId, noun) => `/api/days/${encodeURIComponent(dayId)}/${noun}`,
    wrap = (envelope, body) => ({ envelope, body }),
    newId = () => crypto.randomUUID(),
    patienceMs = 10_000,
  } = parts
  const send = parts.fetch ?? ((...request: Parameters<typeof fetch>) => fetch(...request))

  const ask = async <Body>(path: string, init: RequestInit): Promise<Outcome<Body>> => {
    let response: Response
    try {
      response = await send(path, { ...init, credentials: 'same-origin', signal: AbortSignal.timeout(patienceMs) })
    } catch {
      return { said: 'noContact' }
    }
    return understand<Body>(response)
  }
  const post = <Body>(path: string, body: unknown) =>
    ask<Body>(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json', accept: 'application/json, application/problem+json' },
      body: JSON.stringify(body),
    })
  const stamp = (): Envelope => ({
    commandId: newId() as CommandId,
    deviceSequence: nextSequence(),
    ...clock.times(),
    seenVersion: seenVersion(),
    contactAgeMs: Math.round(contactAgeMs()),
    decidedOnDevice: false,
  })

  return {
    get: (path) => ask(path, { headers: { accept: 'application/json, application/problem+json' } }),
    post,
    remove: (path) => ask(path, { method: 'DELETE' }),
    act: (dayId, noun, body, envelope = stamp()) => post(dayPath(dayId, noun), wrap(envelope, body)),
    stamp,
  }
}

/** Reads an answer of the site. A body that is not what it claims is the site's fault and said so, never a crash here. */
export async function understand<Body>(response: Response): Promise<Outcome<Body>> {
  const body = await readJson(response)
  if (response.ok) return body === unreadable ? broken(response, {}) : { said: 'recorded', body: body as Body }

  const problem: Problem = isObject(body) ? body : { status: response.status, title: response.statusText }
  const refusal = refusalIn(problem)
  if (refusal) return { said: 'refused', refusal, body }
  if (response.status === 401) return { said: 'notSignedOn' }
  if (response.status === 403) return { said: 'notYours', problem }
  if (response.status === 404) return { said: 'notThere', problem }
  if (response.status === 409 || response.status === 412) return { said: 'changedSince', problem }
  // Between us and the site stands something that has lost it; the site itself has not answered.
  if (response.status === 502 || response.status === 503 || response.status === 504) return { said: 'noContact' }
  return response.status >= 500 ? broken(response, problem) : { said: 'notUnderstood', problem }
}

const unreadable = Symbol('not JSON')

async function readJson(response: Response): Promise<unknown> {
  try {
    const text = await response.text()
    return text === '' ? undefined : JSON.parse(text)
  } catch {
    return unreadable
  }
}

/** A refusal stands in the body as `refused` or, in a problem document, as its members. */
function refusalIn(problem: Problem): HeardRefusal | undefined {
  const told = isObject(problem.refused) ? problem.refused : problem
  if (typeof told.rule !== 'string') return undefined
  return {
    rule: told.rule,
    params: isObject(told.params) ? (told.params as HeardRefusal['params']) : {},
    says: textIn(told, 'says') || textIn(told, 'detail'),
    next: textIn(told, 'next'),
    who: textIn(told, 'who'),
  }
}

const broken = (response: Response, problem: Problem): Outcome<never> => ({
  said: 'broken',
  problem: { status: response.status, ...problem },
})
const textIn = (from: Problem, member: string) => (typeof from[member] === 'string' ? from[member] : '')
const isObject = (value: unknown): value is Problem => typeof value === 'object' && value !== null && !Array.isArray(value)
