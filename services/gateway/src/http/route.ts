import { Hono, type Context } from 'hono'
import type { z } from 'zod'
import type { DevicePurpose } from '@musterbook/vocabulary/office-events'
import type { Role } from '@musterbook/vocabulary/people'
import { readBody, readBytes, usualLimitBytes } from './body.ts'
import { problem, unlikeSchema } from './problem.ts'
import type { Who } from './who.ts'

/** What a request carries once it is known who asks. */
export interface HouseEnv {
  Variables: { who: Who }
}
export type HouseContext = Context<HouseEnv>

/** 'anyone': without sign-in. 'enrolled': any enrolled device, signed on or not. Otherwise the roles. */
export type May = 'anyone' | 'enrolled' | readonly Role[]

/** One thing that can be asked over HTTP: served, guarded and described from this alone. */
export interface Route {
  method: 'get' | 'post' | 'put' | 'delete'
  /** As Hono writes it: `/api/days/:dayId`. */
  path: string
  /** One sentence for the published description. */
  says: string
  may: May
  /** Devices on which it may be done as well while nobody is signed on, whatever their roles. */
  alsoOn: readonly DevicePurpose[]
  /** What somebody of another role is told. */
  outside: string
  /** A device that was locked because it was lost may ask it as well. */
  onLocked: boolean
  /** null: no body. */
  body: z.ZodType | 'bytes' | null
  query: z.ZodObject | null
  limitBytes: number
  /** What a success looks like; null: not JSON (a page, a picture, a stream of events). */
  answer: z.ZodType | null
  status: 200 | 201 | 204
  go(c: HouseContext, told: { body: unknown; query: unknown }): Response | Promise<Response>
}

interface Asked<Q extends z.ZodObject> {
  says: string
  may: May
  alsoOn?: readonly DevicePurpose[]
  outside?: string
  onLocked?: true
  query?: Q
  limitBytes?: number
  answer?: z.ZodType
  status?: 200 | 201 | 204
}
type Go<B, Q extends z.ZodObject> = { go(c: HouseContext, told: { body: B; query: z.infer<Q> }): Response | Promise<Response> }

/** Describes one route, its body and query typed by their schemas. */
export function route<Q extends z.ZodObject>(
  method: Route['method'],
  path: string,
  asked: Asked<Q> & { bytes: true } & Go<Uint8Array, Q>,
): Route
export function route<B extends z.ZodType, Q extends z.ZodObject>(
  method: Route['method'],
  path: string,
  asked: Asked<Q> & { body: B } & Go<z.infer<B>, Q>,
): Route
export function route<Q extends z.ZodObject>(method: Route['method'], path: string, asked: Asked<Q> & Go<undefined, Q>): Route
export function route(
  method: Route['method'],
  path: string,
  asked: Asked<z.ZodObject> & { body?: z.ZodType; bytes?: true; go: unknown },
): Route {
  return {
    method,
    path,
    says: asked.says,
    may: asked.may,
    alsoOn: asked.alsoOn ?? [],
    outside: asked.outside ?? 'This is outside your role.',
    onLocked: asked.onLocked ?? false,
    body: asked.bytes ? 'bytes' : (asked.body ?? null),
    query: asked.query ?? null,
    limitBytes: asked.limitBytes ?? usualLimitBytes,
    answer: asked.answer ?? null,
    status: asked.status ?? 200,
    go: asked.go as Route['go'],
  }
}

/** Writes down that somebody asked for what their role does not do. */
export type OnRefused = (c: HouseContext, route: Route) => Promise<void>

/** Serves each route behind its guard: who may, then the query, then the body, then the act itself. */
export function mount(routes: readonly Route[], onRefused: OnRefused): Hono<HouseEnv> {
  const app = new Hono<HouseEnv>()
  for (const one of routes) app.on(one.method.toUpperCase(), one.path, (c) => serve(c, one, onRefused))
  return app
}

async function serve(c: HouseContext, one: Route, onRefused: OnRefused): Promise<Response> {
  const no = await refusedFor(c, one, onRefused)
  if (no) return no

  const query = one.query?.safeParse(c.req.query())
  if (query && !query.success) return unlikeSchema(c, query.error)
  if (!one.body) return one.go(c, { body: undefined, query: query?.data })
  const read = one.body === 'bytes' ? await readBytes(c, one.limitBytes) : await readBody(c, one.body, one.limitBytes)
  return 'no' in read ? read.no : one.go(c, { body: read.body, query: query?.data })
}

async function refusedFor(c: HouseContext, one: Route, onRefused: OnRefused): Promise<Response | undefined> {
  const { device, roles, person } = c.var.who
  if (one.may === 'anyone') return undefined
  if (!device) return problem(c, 401, 'This device is not enrolled. A supervisor’s screen gives a code.')
  if (device.locked && !one.onLocked) return problem(c, 403, 'This device was locked because it was lost. Give it to the supervisor.')
  if (one.may === 'enrolled' || one.may.some((role) => roles.includes(role))) return undefined
  if (!person && one.alsoOn.includes(device.purpose)) return undefined

  await onRefused(c, one)
  if (!person && device.purpose === 'staff') return problem(c, 401, 'Nobody is signed on at this device.')
  return problem(c, 403, one.outside)
}
