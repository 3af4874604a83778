import { Hono } from 'hono'
import { secureHeaders } from 'hono/secure-headers'
import { StudentId } from '@musterbook/vocabulary/ids'
import { acts } from '@musterbook/vocabulary/acts'
import { rosters } from './day-roster.ts'
import { writesFromHereOnly } from './http/origin.ts'
import { problem } from './http/problem.ts'
import { mount, route, type HouseContext, type HouseEnv, type Route } from './http/route.ts'
import { knowWho } from './http/who.ts'
import { keptItems } from './kept-items.ts'
import { openApi } from './openapi.ts'
import { pages } from './pages.ts'
import type { GatewayParts } from './parts.ts'
import { actRoutes } from './routes/acts.ts'
import { caseRoutes } from './routes/cases.ts'
import { clockRoutes } from './routes/clock.ts'
import { copyRoutes } from './routes/copies.ts'
import { dayRoutes } from './routes/days.ts'
import { deviceRoutes } from './routes/devices.ts'
import { entryRoutes } from './routes/entries.ts'
import { publishedRoutes } from './routes/published.ts'
import { sealRoutes } from './routes/seals.ts'
import { evidenceRoutes } from './routes/evidence.ts'
import { healthRoutes } from './routes/health.ts'
import { keptItemRoutes } from './routes/kept-items.ts'
import { medicalRoutes } from './routes/medical.ts'
import { officeRoutes } from './routes/office.ts'
import { peopleRoutes } from './routes/people.ts'
import { recordRoutes } from './routes/records.tsx'
import { readingRoutes } from './routes/readings.ts'
import { resultRoutes } from './routes/results.ts'
import { sessionRoutes } from './routes/session.ts'
import { setUpRoutes } from './routes/set-up.ts'
import { sheetRoutes } from './routes/sheets.tsx'
import { studyRoutes } from './routes/studies.ts'
import { viewRoutes } from './routes/views.ts'
import { sealing } from './sealing.ts'
import { z } from 'zod'

/** Sign-in, the API, live views and the screens, on one port. */
export function gateway(parts: GatewayParts): Hono<HouseEnv> {
  const routes = routesOf(parts)
  const app = new Hono<HouseEnv>()

  app.use(headers)
  app.use(writesFromHereOnly)
  app.use(knowWho(parts))
  app.use('/api/*', async (c, next) => {
    await next()
    if (!c.res.headers.has('cache-control')) c.res.headers.set('cache-control', 'no-store')
  })

  app.route(
    '/',
    mount(routes, (c, asked) => writeDownRefusal(c, asked, parts)),
  )
  app.route(
    '/',
    pages({ ...parts, setUpNeeded: () => parts.office.setUpNeeded(), turnedAway: (c, screen) => turnedAway(c, screen, parts) }),
  )
  app.notFound((c) => problem(c, 404, 'There is no such address here.'))
  app.onError((error, c) => {
    parts.onBroken(error, `${c.req.method} ${c.req.routePath}`)
    return problem(c, 500, 'The server could not do this. It has been written to its log.')
  })
  return app
}

/** Every route of the API: what is served, guarded and described. */
export function routesOf(parts: GatewayParts): Route[] {
  const tools = { ...parts, sealing: sealing(parts), rosterOf: rosters(parts.ledger), kept: keptItems(parts), unsent: new Map() }
  const routes = [
    ...clockRoutes(tools),
    ...healthRoutes(tools),
    ...setUpRoutes(tools),
    ...deviceRoutes(tools),
    ...sessionRoutes(tools),
    ...dayRoutes(tools),
    ...actRoutes(tools),
    ...keptItemRoutes(tools),
    ...copyRoutes(tools),
    ...viewRoutes(tools),
    ...entryRoutes(tools),
    ...sealRoutes(tools),
    ...publishedRoutes(),
    ...peopleRoutes(tools),
    ...evidenceRoutes(tools),
    ...readingRoutes(tools),
    ...medicalRoutes(tools),
    ...officeRoutes(tools),
    ...caseRoutes(tools),
    ...resultRoutes(tools),
    ...recordRoutes(tools),
    ...studyRoutes(tools),
    ...sheetRoutes(tools),
  ]
  let described: object | undefined
  const all: Route[] = [...routes, descriptionRoute(() => (described ??= openApi(all)))]
  return all
}

const descriptionRoute = (described: () => object): Route =>
  route('get', '/api/openapi.json', {
    says: 'This description.',
    may: 'anyone',
    answer: z.looseObject({ openapi: z.string() }),
    go: (c) => c.json(described()),
  })

/** Nothing from elsewhere, nothing inline, in nobody's frame. */
const headers = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'self'"],
    scriptSrc: ["'self'"],
    styleSrc: ["'self'"],
    imgSrc: ["'self'", 'data:', 'blob:'],
    objectSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
  },
  xFrameOptions: 'DENY',
  referrerPolicy: 'no-referrer',
  strictTransportSecurity: false,
  permissionsPolicy: { camera: ['self'], microphone: [], geolocation: [] },
})

async function writeDownRefusal(c: HouseContext, asked: Route, { access }: Pick<GatewayParts, 'access'>): Promise<void> {
  if (typeof asked.may === 'string') return
  const studentId = StudentId.safeParse(c.req.param('studentId') ?? (asked.path.includes('/record/') ? c.req.param('key') : undefined))
  await tellRefusal(
    c,
    { access },
    {
      asked: `${asked.method.toUpperCase()} ${asked.path}`,
      needs: [...asked.may],
      health: asked.path.startsWith('/api/medical/') || asked.path.includes('/medical/'),
      studentId: studentId.success ? studentId.data : null,
    },
  )
}

/** The medical screen is not opened for whoever is signed on with another role: they asked for health data. */
async function turnedAway(c: HouseContext, screen: string, parts: GatewayParts): Promise<Response | undefined> {
  const { person, roles } = c.var.who
  if (screen !== 'medical' || !person || roles.includes('screener')) return undefined
  await tellRefusal(c, parts, { asked: 'GET /medical', needs: [...acts.recordClearance.roles], health: true, studentId: null })
  return problem(c, 403, 'Medical records are outside your role. Ask a medical screener.')
}

async function tellRefusal(
  c: HouseContext,
  { access }: Pick<GatewayParts, 'access'>,
  about: { asked: string; needs: ('screener' | Exclude<Route['may'], string>[number])[]; health: boolean; studentId: StudentId | null },
): Promise<void> {
  const { device, person, roles } = c.var.who
  await access.tell({
    type: 'roleRefused',
    personId: person?.personId ?? null,
    roles: [...roles],
    deviceId: device?.deviceId ?? null,
    ...about,
  })
}
