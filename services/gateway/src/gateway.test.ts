import type { Ledger } from '@musterbook/ledger/ledger'
import { acts } from '@musterbook/vocabulary/acts'
import type { Answer } from '@musterbook/vocabulary/command'
import { officeActs } from '@musterbook/vocabulary/office'
import { refusal, rules, type Rule } from '@musterbook/vocabulary/refusals'
import { Role } from '@musterbook/vocabulary/people'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bodyOverHttp, openActs } from './act-bodies.ts'
import { canary, dayId, envelope, house, studentId, type House } from './controls.ts'
import { exampleOf } from './example.ts'
import { routesOf } from './gateway.ts'
import { sessions } from './sessions.ts'

const at = (noun: string) => `/api/days/${dayId}/${noun}`

describe('what is told', () => {
  test('words are sealed before they go on, and told twice they come out the same', async () => {
    const here = house()
    const cookie = await here.cookieOf('supervisor')
    const body = { reviewId: 'r1', ruling: 'counts', reason: 'Two witnesses agree.' }
    const tell = (words: object) =>
      here.ask('POST', at('rulings'), { cookie, body: { envelope: envelope('c1'), body: { ...body, ...words } } })
    await tell({})
    await tell({})
    expect(here.told[0]!.body).toMatchObject({ reason: { textId: 'text-1' } })
    expect(here.told[1]).toEqual(here.told[0])
    await tell({ reason: 'Other words.' })
    expect(here.told[2]!.body).toMatchObject({ reason: { textId: 'text-2' } })
    expect(JSON.stringify(here.told)).not.toContain('witnesses')
  })

  test('whether somebody is qualified is the office’s to say', async () => {
    const here = house()
    const opening = { type: 'dayOpened', facts: { date: '2027-05-11' }, rules: {} }
    const meta = { ...envelope('open'), command: 'openDay', bodyDigest: '', personId: null, deviceId: 'd' }
    const ledger = here.parts.ledger as Ledger
    await ledger.append(`day/${dayId}`, 0, { meta, recordedAt: 1, events: [opening] })
    const cookie = await here.cookieOf('supervisor')
    const assign = (stationId: string) =>
      here.ask('POST', at('assignments'), {
        cookie,
        body: { envelope: envelope(stationId), body: { personId: 'station', stationId, qualified: true, acceptedBecause: null } },
      })
    await assign('bench')
    await assign('track')
    expect(here.told.map(({ body }) => (body as { qualified: boolean }).qualified)).toEqual([true, false])
  })

  test('a second person agrees with their own PIN; a wrong one is written down', async () => {
    const here = house()
    const cookie = await here.cookieOf('supervisor')
    const reopen = (pin: string) =>
      here.ask('POST', at('reopenings'), {
        cookie,
        body: { envelope: envelope(pin), body: { reason: 'A late watch.' }, countersign: { personId: 'coordinator', pin } },
      })
    expect((await reopen('0000')).status).toBe(403)
    expect(here.told).toEqual([])
    expect((await here.parts.access.read()).at(-1)?.event).toMatchObject({
      type: 'signOnRefused',
      personId: 'coordinator',
      because: 'wrongPin',
    })
    expect((await reopen('4711')).status).toBe(201)
    expect(here.told[0]!.by.countersigned).toEqual({ personId: 'coordinator', roles: ['coordinator'] })
  })

  test('whoever has not chosen a PIN of their own yet stops and holds, changes it, and does nothing else', async () => {
    const here = house()
    const device = 'musterbook-device=staff'
    const signedOn = await here.ask('POST', '/api/session', { cookie: device, body: { personId: 'newcomer', pin: '4711' } })
    const cookie = `${device}; ${signedOn.headers.get('set-cookie')!.split(';')[0]}`
    const body = { envelope: envelope('c1'), body: { reason: 'A late watch.' }, countersign: { personId: 'coordinator', pin: '4711' } }
    expect((await here.ask('POST', at('reopenings'), { cookie, body })).status).toBe(403)
    expect((await here.ask('GET', '/api/office/people', { cookie })).status).toBe(403)
    const stop = { envelope: envelope('c2'), body: exampleOf(bodyOverHttp('stopStudent')) }
    expect((await here.ask('POST', at('stops'), { cookie, body: stop })).status).toBe(201)
    expect(here.told).toMatchObject([{ act: 'stopStudent', by: { personId: 'newcomer', roles: ['device'] } }])
    const change = { body: { oldPin: '4711', newPin: '8250' } }
    expect((await here.ask('POST', '/api/office/own-pins', { cookie, body: change })).status).toBe(201)

    const second = { ...body, countersign: { personId: 'newcomer', pin: '4711' } }
    const countersigned = await here.ask('POST', at('reopenings'), { cookie: await here.cookieOf('supervisor'), body: second })
    expect([countersigned.status, ((await countersigned.json()) as { title: string }).title]).toEqual([
      403,
      'That PIN was set by somebody else.',
    ])
  })

  test('every rule by which a day says no is a problem document that carries it', async () => {
    let answer: Answer = { noSuchDay: true }
    const here = house({ testDay: { tell: async () => answer } })
    const cookie = await here.cookieOf('station')
    const body = { envelope: envelope('c1'), body: exampleOf(bodyOverHttp('callUp')) }
    for (const rule of Object.keys(rules) as Rule[]) {
      answer = { refused: refusal(rule, { bib: '107', station: 'Agility' }), version: 7, toldTwice: false }
      const response = await here.ask('POST', at('call-ups'), { cookie, body })
      const told = (await response.json()) as Record<string, unknown>
      expect(response.status).toBeGreaterThanOrEqual(400)
      expect(response.status).toBeLessThan(500)
      expect(response.headers.get('content-type')).toBe('application/problem+json')
      expect(told).toMatchObject({ status: response.status, refused: { rule }, version: 7 })
    }
  })

  test('an unknown day is 404, a reused command id 409', async () => {
    const tellWith = async (answer: Answer) => {
      const here = house({ testDay: { tell: async () => answer } })
      const cookie = await here.cookieOf('station')
      return (
        await here.ask('POST', at('call-ups'), { cookie, body: { envelope: envelope('c'), body: exampleOf(bodyOverHttp('callUp')) } })
      ).status
    }
    expect(await tellWith({ noSuchDay: true })).toBe(404)
    expect(await tellWith({ commandIdReused: true })).toBe(409)
  })

  test('a clock at another speed opens rehearsals only', async () => {
    const here = house({ speed: 60, rehearsalOnly: true })
    const cookie = await here.cookieOf('coordinator')
    const open = (rehearsal: boolean) =>
      here.ask('POST', '/api/days', { cookie, body: { date: '2027-05-11', title: 'Entry test', rehearsal, classIds: ['lark-7'] } })
    const refused = await open(false)
    expect([refused.status, await refused.json()]).toMatchObject([403, { refused: { rule: 'notRehearsal' } }])
    expect([(await open(true)).status, (await (await open(true)).json()) as object]).toMatchObject([
      422,
      { missing: ['No heat policy is in force.'] },
    ])
    expect(await (await here.ask('GET', '/api/clock')).json()).toEqual({ now: here.parts.clock(), speed: 60, rehearsal: true })
  })
})

describe('what is not as it should be', () => {
  test('an unknown noun 404, too large 413, not JSON 400, not said to be JSON 415, wrong types 422 with the fields', async () => {
    const here = house()
    const cookie = await here.cookieOf('station')
    const post = (path: string, body: unknown, headers = {}) => here.ask('POST', path, { cookie, body, headers })
    expect((await post(at('unheard-of'), {})).status).toBe(404)
    expect((await post(at('call-ups'), `"${'x'.repeat(300_000)}"`)).status).toBe(413)
    expect((await post(at('call-ups'), '{"half":')).status).toBe(400)
    expect((await post(at('call-ups'), '{}', { 'content-type': 'text/plain' })).status).toBe(415)
    const wrong = await post(at('call-ups'), { envelope: envelope('c1'), body: { studentId: 5, stationId: 'bench', extra: canary } })
    const told = (await wrong.json()) as { fields: { path: string }[] }
    expect([wrong.status, told.fields.map(({ path }) => path)]).toEqual([422, ['body.studentId', 'body']])
    expect(here.broken).toEqual([])
  })

  test('arbitrary bodies never break anything: no answer is a 5xx', async () => {
    const here = house()
    const cookies = [
      await here.cookieOf('coordinator'),
      await here.cookieOf('screener'),
      await here.cookieOf('kiosk'),
      await here.cookieOf('device'),
    ]
    const posts = routesOf(here.parts).filter(({ method, path }) => method === 'post' && path !== '/api/session')
    const wild = fc.oneof(fc.jsonValue(), fc.string(), fc.constant('['.repeat(60_000)), fc.constant('{"__proto__":{"envelope":1}}'))
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...posts), fc.constantFrom(...cookies), wild, fc.string(), async (asked, cookie, body, id) => {
        const path = asked.path.replaceAll(/:[A-Za-z]+/g, encodeURIComponent(id) || 'x')
        const answer = await here.ask('POST', path, { cookie, body })
        expect(answer.status, `${path} ${JSON.stringify(body)}`).toBeLessThan(500)
      }),
      { numRuns: 600 },
    )
    expect(here.broken).toEqual([])
  })

  test('bodies that are almost right never break anything either', async () => {
    const here = house()
    const cookies = new Map<Role, string>()
    for (const role of Role.options) cookies.set(role, await here.cookieOf(role))
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...openActs),
        fc.nat(),
        fc.jsonValue(),
        fc.string({ minLength: 1 }),
        async (name, pick, value, id) => {
          const whole = { envelope: envelope('c1'), body: exampleOf(bodyOverHttp(name)) }
          const bent = bend(whole, pick, value)
          const path = `/api/days/${encodeURIComponent(id)}/${acts[name].noun}`
          const answer = await here.ask('POST', path, { cookie: cookies.get(acts[name].roles[0]!)!, body: bent })
          expect(answer.status, `${path} ${JSON.stringify(bent)}`).toBeLessThan(500)
        },
      ),
      { numRuns: 600 },
    )
    expect(here.broken).toEqual([])
  })

  test('what breaks inside is said to whoever runs the server, and to nobody else', async () => {
    const here = house({ testDay: { tell: () => Promise.reject(new Error(canary)) } })
    const cookie = await here.cookieOf('station')
    const answer = await here.ask('POST', at('call-ups'), {
      cookie,
      body: { envelope: envelope('c'), body: exampleOf(bodyOverHttp('callUp')) },
    })
    expect(answer.status).toBe(503)
    expect(await answer.text()).not.toContain(canary)
    expect(here.broken).toHaveLength(1)
  })
})

describe('from other pages', () => {
  test('writes are turned away, whatever cookies the browser brings along', async () => {
    const here = house()
    const cookie = await here.cookieOf('supervisor')
    const body = { envelope: envelope('c'), body: exampleOf(bodyOverHttp('callUp')) }
    const from = async (headers: Record<string, string>) => (await here.ask('POST', at('call-ups'), { cookie, body, headers })).status
    expect(await from({ origin: 'https://elsewhere.example' })).toBe(403)
    expect(await from({ origin: 'null' })).toBe(403)
    expect(await from({ 'sec-fetch-site': 'cross-site' })).toBe(403)
    expect(await from({ 'sec-fetch-site': 'same-site' })).toBe(403)
    expect(await from({ origin: 'http://localhost', 'sec-fetch-site': 'same-origin' })).toBe(201)
    expect(here.told).toHaveLength(1)
  })

  test('nothing inline, in nobody’s frame, kept in no cache, guessed by no sniffer', async () => {
    const { headers } = await house().ask('GET', '/api/clock')
    expect(headers.get('content-security-policy')).toContain("default-src 'self'")
    expect(headers.get('content-security-policy')).toContain("frame-ancestors 'none'")
    expect(headers.get('content-security-policy')).not.toContain('unsafe')
    expect(headers.get('x-content-type-options')).toBe('nosniff')
    expect(headers.get('cache-control')).toBe('no-store')
  })

  test('cookies are read by no script and sent by no other site', async () => {
    const here = house({ secure: true })
    const signedOn = await here.ask('POST', '/api/session', {
      cookie: 'musterbook-device=staff',
      body: { personId: 'station', pin: '4711' },
    })
    expect(signedOn.headers.get('set-cookie')).toMatch(/HttpOnly/)
    expect(signedOn.headers.get('set-cookie')).toMatch(/SameSite=Strict/)
    expect(signedOn.headers.get('set-cookie')).toMatch(/Secure/)
  })
})

describe('signing on', () => {
  test('relief is a new sign-on: the one before ends', async () => {
    const here = house()
    const first = await here.cookieOf('station', 'staff')
    await here.cookieOf('supervisor', 'staff')
    const session = (await (await here.ask('GET', '/api/session', { cookie: first })).json()) as object
    expect(session).toMatchObject({ device: { deviceId: 'staff' }, person: null })
  })

  test('a screen left alone locks; what only listens does not keep it open; stop and hold still work on it', async () => {
    let now = 0
    const here = house({ sessions: sessions({ steady: () => now, lockAfterMs: 1000, onEnd: () => {} }) })
    const cookie = await here.cookieOf('station')
    const person = async () => ((await (await here.ask('GET', '/api/session', { cookie })).json()) as { person: unknown }).person
    now = 900
    expect(await person()).not.toBeNull()
    now = 1100
    expect(await person()).toBeNull()
    const stop = { envelope: envelope('stop'), body: exampleOf(bodyOverHttp('stopStudent')) }
    expect((await here.ask('POST', at('stops'), { cookie, body: stop })).status).toBe(201)
    expect(here.told.at(-1)!.by).toMatchObject({ personId: null, roles: ['device'] })
  })

  test('locking ends the session at once', async () => {
    const here = house()
    const cookie = await here.cookieOf('station')
    expect((await here.ask('DELETE', '/api/session', { cookie })).status).toBe(204)
    expect((await here.ask('GET', `/api/days/${dayId}/people`, { cookie })).status).toBe(401)
  })

  test('a wrong PIN is refused and written down', async () => {
    const here = house()
    const answer = await here.ask('POST', '/api/session', { cookie: 'musterbook-device=staff', body: { personId: 'station', pin: '1' } })
    expect(answer.status).toBe(403)
    expect(answer.headers.get('set-cookie')).toBeNull()
    expect((await here.parts.access.read()).map(({ event }) => event.type)).toEqual(['signOnRefused'])
  })

  test('a cookie of one device opens nothing on another', async () => {
    const here = house()
    const cookie = (await here.cookieOf('supervisor')).replace('musterbook-device=staff-supervisor', 'musterbook-device=staff')
    expect((await here.ask('GET', `/api/days/${dayId}/people`, { cookie })).status).toBe(401)
  })
})

describe('S12: health content', () => {
  test('is in no answer to any other role, on any address that can be read', async () => {
    const here = house()
    const reads = routesOf(here.parts).filter(({ method }) => method === 'get')
    const fill = (path: string) =>
      path
        .replace(':dayId', dayId)
        .replace(':studentId', studentId)
        .replace(':key', studentId)
        .replace(':version', '1')
        .replaceAll(/:[A-Za-z]+/g, 'text-1')
    for (const role of Role.options.filter((one) => one !== 'screener')) {
      const cookie = await here.cookieOf(role)
      for (const { path } of reads)
        expect(await (await here.ask('GET', fill(path), { cookie })).text(), `${role} ${path}`).not.toContain(canary)
      for (const path of ['openings', 'notes', 'texts/text-1/openings'])
        expect(await (await here.ask('POST', `/api/medical/${path}`, { cookie, body: { studentId } })).text()).not.toContain(canary)
    }
    const screener = await here.cookieOf('screener')
    const opened = await here.ask('POST', '/api/medical/openings', { cookie: screener, body: { studentId, dayId } })
    expect(await opened.text()).toContain(canary)
  })

  test('opened by its address by somebody else: refused, and the screener sees the attempt', async () => {
    const here = house()
    const cookie = await here.cookieOf('station')
    for (const path of ['/api/medical/access', '/medical', `/api/days/${dayId}/views/medical/all`]) {
      const answer = await here.ask('GET', path, { cookie })
      expect(answer.status).toBe(403)
    }
    const told = (await (await here.ask('GET', '/api/medical/access', { cookie })).json()) as { detail: string }
    expect(told.detail).toContain('Medical records are outside your role')
    const seen = await here.ask('GET', '/api/medical/access', { cookie: await here.cookieOf('screener') })
    expect(await seen.json()).toMatchObject([
      { event: { type: 'roleRefused', personId: 'station', asked: 'GET /api/medical/access', health: true } },
      { event: { asked: 'GET /medical' } },
      { event: { asked: 'GET /api/days/:dayId/views/medical/:key' } },
      { event: { asked: 'GET /api/medical/access' } },
    ])
  })

  test('nothing is opened when the opening could not be written down', async () => {
    const here = house()
    const cookie = await here.cookieOf('screener')
    here.parts.access.tell = () => Promise.reject(new Error('disk full'))
    const answer = await here.ask('POST', '/api/medical/openings', { cookie, body: { studentId, dayId } })
    expect(answer.status).toBe(500)
    expect(await answer.text()).not.toContain(canary)
  })
})

describe('a live view', () => {
  const watched = (rows: { version: number; body: unknown }[]) =>
    house({
      views: {
        ...house().parts.views,
        async *watch() {
          yield* rows
        },
      },
    })
  const read = async (here: House, seen?: number) => {
    const cookie = await here.cookieOf('safety')
    const headers = seen === undefined ? {} : { 'last-event-id': String(seen) }
    return (await here.ask('GET', `/api/days/${dayId}/live/safety/all`, { cookie, headers })).text()
  }
  const rows = [
    { version: 3, body: { holds: [], stops: [] } },
    { version: 4, body: { holds: ['h1'], stops: [] } },
  ]

  test('starts with the newest row; a reader that has it gets only what came after', async () => {
    expect([...(await read(watched(rows))).matchAll(/^id: (\d+)$/gm)].map(([, id]) => id)).toEqual(['3', '4'])
    expect([...(await read(watched(rows), 3)).matchAll(/^id: (\d+)$/gm)].map(([, id]) => id)).toEqual(['4'])
  })

  test('a reader that is ahead of restored data is shown where the data stand', async () => {
    expect(await read(watched(rows), 99)).toContain('id: 3')
  })

  test.each(['device-locks', 'device-revocations'])(
    'ends with %s of its device, nobody signed on there; another device hears on',
    async (noun) => {
      const until = (signal: AbortSignal) => new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve()))
      const here = house({
        views: {
          ...house().parts.views,
          async *watch(_day, _name, _key, signal) {
            yield rows[0]!
            await until(signal!)
          },
        },
        ledger: {
          ...house().parts.ledger,
          async *follow(_prefix, _seen, signal) {
            await until(signal)
          },
        },
      })
      const listen = async (path: string, deviceId: string) => {
        const cookie = await here.cookieOf('device', deviceId)
        return (await here.ask('GET', `/api/days/${dayId}/live/${path}`, { cookie })).body!.getReader()
      }
      const lines = [await listen('safety/all', 'staff'), await listen('entries/all', 'staff')]
      const other = await listen('safety/all', 'staff-safety')
      const ended = Promise.all(lines.map(drained))
      const reason = noun === 'device-locks' && { reason: 'Left at the bleachers', unsentShown: null }
      const body = { body: { deviceId: 'staff', ...reason } }
      expect((await here.ask('POST', `/api/office/${noun}`, { cookie: await here.cookieOf('supervisor'), body })).status).toBe(201)
      expect(await ended).toEqual([true, true])
      expect(await Promise.race([drained(other), new Promise((resolve) => setTimeout(resolve, 50, 'still heard'))])).toBe('still heard')
      await other.cancel()
    },
  )

  test('a fault of the projection ends the view without telling the reader what it was', async () => {
    const here = house({
      views: {
        ...house().parts.views,
        async *watch() {
          throw new Error(canary)
        },
      },
    })
    expect(await read(here)).not.toContain(canary)
    expect(here.broken).toHaveLength(1)
  })
})

describe('the description', () => {
  test('holds every act, every office act and every route, with its roles', async () => {
    const here = house()
    const described = (await (await here.ask('GET', '/api/openapi.json')).json()) as {
      openapi: string
      paths: Record<string, Record<string, { 'x-roles'?: string[]; requestBody?: object }>>
    }
    expect(described.openapi).toBe('3.1.0')
    for (const name of openActs)
      expect(described.paths[`/api/days/{dayId}/${acts[name].noun}`]?.post?.['x-roles'], name).toEqual([...acts[name].roles])
    for (const { noun } of Object.values(officeActs)) expect(described.paths[`/api/office/${noun}`]?.post?.requestBody, noun).toBeDefined()
    for (const { method, path } of routesOf(here.parts))
      expect(described.paths[path.replaceAll(/:([A-Za-z]+)/g, '{$1}')]?.[method], `${method} ${path}`).toBeDefined()
    const refs = [...JSON.stringify(described).matchAll(/"#\/components\/schemas\/([^"]+)"/g)].map(([, name]) => name!)
    for (const name of refs) expect(JSON.stringify((described as unknown as { components: object }).components)).toContain(`"${name}"`)
  })
})

describe('health of the server', () => {
  const lag = (behind: number, forMs: number) => ({
    views: { ...house().parts.views, lags: () => [{ name: 'views', dayId, behind, forMs, stopped: null }] },
  })
  const status = async (changes: Parameters<typeof house>[0]) => (await house(changes).ask('GET', '/health')).status

  test('503 when a projection is more than 200 entries and 5 s behind, or the disk failed; not for either alone', async () => {
    expect(await status({})).toBe(200)
    expect(await status(lag(201, 5000))).toBe(200)
    expect(await status(lag(200, 60_000))).toBe(200)
    expect(await status(lag(201, 5001))).toBe(503)
    expect(await status({ disk: () => ({ ok: false, says: 'no space' }) })).toBe(503)
  })

  test('a day that stopped is named once, with why; the others go on, so it stays 200', async () => {
    const says = 'entry 2 of day/d-bent does not fit the chain'
    const lags = () => [
      { name: 'board', dayId: 'd-bent', behind: 3, forMs: 9, stopped: says },
      { name: 'safety', dayId: 'd-bent', behind: 3, forMs: 9, stopped: says },
      { name: 'board', dayId, behind: 0, forMs: 0, stopped: null },
    ]
    const heard = await house({ views: { ...house().parts.views, lags } }).ask('GET', '/health')
    expect(heard.status).toBe(200)
    expect(await heard.json()).toMatchObject({ ok: true, stopped: [{ dayId: 'd-bent', says }] })
  })
})

/** Reads on to the end of a line. */
async function drained(line: ReadableStreamDefaultReader<Uint8Array>): Promise<true> {
  for (;;) if ((await line.read()).done) return true
}

/** Puts another value in one place of a told command. */
function bend(whole: object, pick: number, value: unknown): unknown {
  const places: [Record<string, unknown>, string][] = []
  const walk = (node: unknown) => {
    if (typeof node !== 'object' || node === null) return
    for (const key of Object.keys(node)) {
      places.push([node as Record<string, unknown>, key])
      walk((node as Record<string, unknown>)[key])
    }
  }
  walk(whole)
  const [node, key] = places[pick % places.length]!
  node[key] = value
  return whole
}
