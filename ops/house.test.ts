import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { safetyView, type SafetyView } from '@musterbook/day/views/safety'
import { asKnown } from '@musterbook/replay/moments'
import { demoAcademy, demoDay, type DemoAcademy, type DemoStaff } from '@musterbook/office/demo-academy'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { composeHouse, type House } from './house.ts'
import { httpDevice, liveEvents, type HttpDevice } from './testing/http-device.ts'

const canary = 'CANARY-old-knee-operation'
const morning = Date.UTC(2027, 4, 11, 5, 30)
const dayId = 'entry-2027'

describe('the whole house over a real port', () => {
  let folder: string
  let house: House
  let academy: DemoAcademy
  const broken: unknown[] = []
  const devices = new Map<string, HttpDevice>()

  const open = () =>
    composeHouse({
      data: join(folder, 'data'),
      keyFile: join(folder, 'key'),
      port: 0,
      host: '127.0.0.1',
      speed: 1,
      startsAt: morning,
      pinCost: 2 ** 10,
      onBroken: (error, where) => broken.push(where, error),
    })
  const signOn = async (deviceName: string, who: DemoStaff): Promise<HttpDevice> => {
    const device = devices.get(deviceName)!
    const { personId, pin } = academy.staff[who]
    await device.answer(await device.post('/api/session', { personId, pin }), 201)
    return device
  }

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'house-'))
    house = await open()
    academy = await demoAcademy(house.office, house.clock.now())
    for (const { name, code } of academy.devices) {
      const device = httpDevice(house.address, () => house.clock.now())
      await device.answer(await device.post('/api/devices/enrolment', { code }), 201)
      devices.set(name, device)
    }
  })
  afterAll(async () => {
    await house.close()
    rmSync(folder, { recursive: true })
  })

  test('a code prints at the first start only while nothing is set up', () => {
    expect(house.setUpCode).toMatch(/^\w{4}-\w{4}-\w{4}$/)
  })

  test('opens no real day under a clock that does not tell the real time, and a rehearsal under it', async () => {
    const desk = await signOn('Greeter', 'ines')
    const body = { dayId, ...demoDay, classIds: [academy.classId] }
    expect(await desk.answer(await desk.post('/api/days', { ...body, rehearsal: false }), 403)).toMatchObject({
      refused: { rule: 'notRehearsal' },
    })
    expect(await desk.answer(await desk.post('/api/days', { ...body, rehearsal: true }), 201)).toMatchObject({ recorded: { version: 1 } })
    const people = await desk.answer<object[]>(await desk.get(`/api/days/${dayId}/people`), 200)
    expect(people.length).toBe(academy.students.length)
    expect(JSON.stringify(people)).not.toContain(academy.students[0]!.birthDate)
  })

  test('a refusal names its rule, its sentence and who resolves it; the clearance shows on another tablet without reload', async () => {
    const [student] = academy.students
    const studentId = student!.studentId
    const mira = await signOn('Agility', 'mira')
    const petra = await signOn('Medical 1', 'petra')
    const greeter = await signOn('Greeter', 'sanne')
    await greeter.answer(await greeter.tell(dayId, 'check-ins', { studentId, secondIdentifier: 'birthDate' }), 201)
    await greeter.answer(await greeter.tell(dayId, 'bibs', { studentId, bib: '107' }), 201)

    const start = {
      attemptId: 'a1',
      studentId,
      stationId: 'agility',
      official: true,
      load: null,
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
    }
    const refused = await mira.answer<{ detail: string }>(await mira.tell(dayId, 'attempts', start), 403)
    expect(refused).toMatchObject({ refused: { rule: 'notCleared', who: 'Medical screener' } })
    expect(refused.detail).toContain('#107')

    const stop = new AbortController()
    const live = liveEvents(await mira.get(`/api/days/${dayId}/live/station/agility`, {}, stop.signal))
    const clearanceGate = (body: unknown) =>
      (body as { students: { studentId: string; gates: { gate: string; state: string }[] }[] }).students
        .find((one) => one.studentId === studentId)
        ?.gates.find(({ gate }) => gate === 'clearance')?.state
    expect(clearanceGate((await live.next()).value!.data.body)).not.toBe('met')
    const begun = performance.now()
    await petra.answer(
      await petra.tell(dayId, 'clearances', { clearanceId: 'cl1', studentId, status: 'cleared', limits: [], supersedes: null }),
      201,
    )
    for await (const { data } of live) if (clearanceGate(data.body) === 'met') break
    expect(performance.now() - begun).toBeLessThan(2000)
    stop.abort()
  })

  test('a live view resumes after the version its reader has; a reader who does not read slows nobody', async () => {
    const rashid = await signOn('Safety', 'rashid')
    const stop = new AbortController()
    const path = `/api/days/${dayId}/live/safety/all`
    // Never read from: its socket fills up and stays full.
    const silent = await Promise.all(Array.from({ length: 20 }, () => rashid.get(path, {}, stop.signal)))
    const first = await liveEvents(await rashid.get(path, {}, stop.signal)).next()
    const version = first.value!.id

    const resumed = liveEvents(await rashid.get(path, { 'last-event-id': String(version) }, stop.signal))
    const next = resumed.next()
    const begun = performance.now()
    await rashid.answer(await rashid.tell(dayId, 'holds', { holdId: 'h1', kind: 'other', zoneId: 'track' }), 201)
    const { id, data } = (await next).value!
    expect(id).toBeGreaterThan(version)
    expect((data.body as SafetyView).holds.map(({ holdId }) => holdId)).toEqual(['h1'])
    expect(performance.now() - begun).toBeLessThan(2000)
    expect(silent).toHaveLength(20)
    stop.abort()
  })

  test('locking a screen ends its live views', async () => {
    const bo = await signOn('Track 2', 'bo')
    const live = liveEvents(await bo.get(`/api/days/${dayId}/live/board/all`))
    await live.next()
    await fetch(`${house.address}/api/session`, {
      method: 'DELETE',
      headers: { cookie: [...bo.cookies].map((pair) => pair.join('=')).join('; ') },
    })
    for await (const _ of live);
    expect((await bo.get(`/api/days/${dayId}/views/board/all`)).status).toBe(401)
  })

  test('S12: what a student answered is read by a screener alone, on every address and in every file', async () => {
    const [student] = academy.students
    const studentId = student!.studentId
    const kiosk = devices.get('Kiosk')!
    const questions = await kiosk.answer<{
      id: string
      questions: { questionId: string; kind: string; choices: { choiceId: string }[] }[]
    }>(await kiosk.get('/api/medical/questions'), 200)
    const answers = Object.fromEntries(
      questions.questions.map(({ questionId, kind, choices }) => [questionId, kind === 'words' ? canary : choices[0]!.choiceId]),
    )
    await kiosk.answer(await kiosk.post('/api/medical/answers', { dayId, studentId, setId: questions.id, answers }), 201)

    const petra = await signOn('Medical 1', 'petra')
    await petra.answer(
      await petra.post('/api/medical/notes', { body: { dayId, studentId, kind: 'note', about: null, text: `${canary} seen` } }),
      201,
    )
    const words = await petra.answer<{ recorded: { events: { words: { textId: string } }[] } }>(
      await petra.tell(dayId, 'health-events', { studentId, words: `${canary} reported` }),
      201,
    )
    const { textId } = words.recorded.events[0]!.words
    expect(JSON.stringify(await petra.answer(await petra.post('/api/medical/openings', { studentId, dayId }), 201))).toContain(canary)

    const described = await petra.answer<{ paths: Record<string, object> }>(await petra.get('/api/openapi.json'), 200)
    const reads = Object.entries(described.paths).flatMap(([path, methods]) => ('get' in methods ? [path] : []))
    const keyFor = (path: string) => (path.includes('/station/') ? 'agility' : path.includes('/record/') ? studentId : 'all')
    const values = { dayId, studentId, classId: academy.classId, stationId: 'agility', textId, version: '5' }
    const filled = (path: string) =>
      path.replace('{key}', keyFor(path)).replaceAll(/\{(\w+)\}/g, (_, name: keyof typeof values) => values[name])

    const others: [string, DemoStaff][] = [
      ['Greeter', 'ines'],
      ['Reach', 'tomas'],
      ['Safety', 'rashid'],
      ['Agility', 'mira'],
      ['Bench 1', 'sanne'],
    ]
    const askers = [
      ...(await Promise.all(others.map(([device, who]) => signOn(device, who)))),
      kiosk,
      devices.get('Board')!,
      devices.get('Bench 2')!,
    ]
    let read = 0
    for (const asker of askers)
      for (const path of reads) {
        const text = await firstOf(await asker.get(filled(path)), path)
        expect(text, path).not.toContain(canary)
        read += 1
      }
    expect(read).toBeGreaterThan(300)
    expect(broken).toEqual([])
    for (const name of readdirSync(join(folder, 'data')))
      expect(readFileSync(join(folder, 'data', name)).includes(canary), name).toBe(false)

    const seen = await petra.answer<{ event: { type: string; health?: boolean } }[]>(await petra.get('/api/medical/access'), 200)
    expect(seen.filter(({ event }) => event.type === 'roleRefused').length).toBeGreaterThan(0)
    expect(seen.filter(({ event }) => event.type === 'healthOpened').length).toBe(1)
  })

  test('sheets print a student, a class, the day with its digest, codes and a briefing', async () => {
    const tomas = await signOn('Reach', 'tomas')
    const sheet = async (path: string) => {
      const response = await tomas.get(`/sheets/days/${dayId}/${path}`)
      expect(response.headers.get('content-type')).toContain('text/html')
      return response.text()
    }
    const { studentId, givenName } = academy.students[0]!
    expect(await sheet(`students/${studentId}?paper=Letter`)).toContain('/sheets/letter.css')
    expect(await sheet(`students/${studentId}`)).toContain(givenName)
    expect(await sheet(`classes/${academy.classId}`)).toContain(givenName)
    expect(await sheet('day')).toContain((await house.ledger.head(`day/${dayId}`)).hash)
    expect(await sheet('codes')).toContain('<svg')
    expect(await sheet('briefings/agility?language=ar')).toContain('dir="rtl"')
    for (const path of [`students/${studentId}`, 'day', 'codes']) {
      const text = await sheet(path)
      expect(text).not.toMatch(/ style=|<script|<style/)
      expect(text).toContain('Rehearsal')
    }
  })

  test('reads every entry, from which the day stands as it stood at any version', async () => {
    const tomas = await signOn('Reach', 'tomas')
    const { entries, head } = await tomas.answer<{ entries: { version: number; events: { type: string }[] }[]; head: { version: number } }>(
      await tomas.get(`/api/days/${dayId}/entries`),
      200,
    )
    expect(entries.map(({ version }) => version)).toEqual(Array.from({ length: head.version }, (_, index) => index + 1))
    const raised = entries.find(({ events }) => events.some(({ type }) => type === 'holdRaised'))!.version
    const holdsAt = (version: number) => safetyView(asKnown(dayId as never, entries as never, { entries: version })).holds.length
    expect([holdsAt(raised - 1), holdsAt(raised)]).toEqual([0, 1])
  })

  test('after a restart devices are enrolled still, screens are locked, the clock has not run back, and a command told again is the same', async () => {
    const tomas = await signOn('Reach', 'tomas')
    const retest = {
      entitlementId: 'e1',
      studentId: academy.students[1]!.studentId,
      stationIds: ['run'],
      until: '2027-05-25',
      reason: 'The timer stood in the wrong place.',
    }
    const first = await tomas.answer<{ recorded: object }>(await tomas.tell(dayId, 'retests', retest), 201)
    const before = house.clock.now()
    await house.close()
    house = await open()
    expect(house.clock.now()).toBeGreaterThanOrEqual(before - 1000)
    expect(house.setUpCode).toBeNull()

    tomas.move(house.address)
    expect(await tomas.answer(await tomas.get('/api/session'), 200)).toMatchObject({ device: { name: 'Reach' }, person: null })
    await signOn('Reach', 'tomas')
    const second = await tomas.answer<{ recorded: object }>(await tomas.tellAgain(), 201)
    expect(second).toEqual({ recorded: first.recorded, toldTwice: true })
    expect((await tomas.answer<{ ok: boolean }>(await tomas.get('/health'), 200)).ok).toBe(true)
  })
})

/** A whole answer, or the first event of one that does not end. */
async function firstOf(response: Response, path: string): Promise<string> {
  expect(response.status, path).toBeLessThan(500)
  if (!response.headers.get('content-type')?.includes('event-stream')) return response.text()
  const { value } = await liveEvents(response).next()
  return JSON.stringify(value ?? null)
}
