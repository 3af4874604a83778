import * as c from '@musterbook/day/controls'
import { whatIf } from '@musterbook/replay/what-if'
import { acts } from '@musterbook/vocabulary/acts'
import { officeActs } from '@musterbook/vocabulary/office'
import { expect, test } from 'vitest'
import { openActs } from './act-bodies.ts'
import { dayId, envelope, house } from './controls.ts'
import { routesOf } from './gateway.ts'

const day = c.drive()
c.opened([c.expected('116')])(day)
c.all(c.ready('116'), c.tries('116', 'agility', 'a-1', c.seconds(1720)))(day)
const imagined = JSON.parse(JSON.stringify(whatIf(c.dayId, day.entries, []))) as { supposed: object[] }

test('no route takes a what-if, whole or an entry of it, and nothing is recorded', async () => {
  const here = house()
  const posts = routesOf(here.parts).filter(({ method, body }) => method === 'post' && body !== 'bytes' && body !== null)
  expect(posts.length).toBeGreaterThan(Object.keys(officeActs).length)
  const heads = async () =>
    JSON.stringify(await (here.parts.ledger as never as { streams(prefix: string): Promise<object[]> }).streams('day/'))
  const before = await heads()
  for (const route of posts) {
    const path = route.path.replace(':dayId', dayId).replaceAll(/:\w+/g, 'x')
    for (const body of [imagined, imagined.supposed.at(-1)!]) {
      const cookie = await here.cookieOf(typeof route.may === 'string' ? 'supervisor' : route.may[0]!)
      for (const told of [body, { envelope: envelope('what-if'), body }]) {
        const { status } = await here.ask('POST', path, { cookie, body: told })
        expect([path, status >= 400 && status < 500]).toEqual([path, true])
      }
    }
  }
  expect(here.told).toEqual([])
  expect(await heads()).toBe(before)
  expect(openActs.every((name) => posts.some(({ path }) => path.endsWith(acts[name].noun)))).toBe(true)
})

test('a study writes one line into the access log, and whoever may not look at past days makes none', async () => {
  const here = house()
  const study = { dayIds: [dayId], rules: ['FX-2 (run)'] }
  const studies = async () => (await here.parts.access.read()).filter(({ event }) => event.type === 'studyMade')
  expect((await here.ask('POST', '/api/studies', { cookie: await here.cookieOf('station'), body: study })).status).toBe(403)
  expect(await studies()).toEqual([])
  expect((await here.ask('POST', '/api/studies', { cookie: await here.cookieOf('coordinator'), body: study })).status).toBe(201)
  expect((await studies()).map(({ event }) => event)).toMatchObject([{ personId: 'coordinator', ...study }])
})
