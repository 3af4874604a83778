import { demoAcademy } from '@musterbook/office/demo-academy'
import { accessRecord } from '@musterbook/gateway/access-record'
import { memoryLedger } from '@musterbook/ledger/memory'
import { desked, granted, told } from '@musterbook/office/controls'
import { asyncApi } from '@musterbook/vocabulary/published'
import { envelope, hotReading, safetyOfficer } from '@musterbook/weather/controls'
import { demoPolicy } from '@musterbook/heat/policies'
import { openWeather } from '@musterbook/weather/weather'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import Ajv, { type ValidateFunction } from 'ajv'
import { beforeAll, expect, test } from 'vitest'
import { everything } from '../faults/clients.ts'
import { readGolden } from './golden.ts'

/**
 * The published document against what was really written: every kind of stream, each event by the payload that the document names for it, under
 * JSON Schema draft 7 as an independent reader (ajv) has it.
 */
interface Written {
  channel: string
  event: { type: string }
}

const document = asyncApi() as {
  channels: Record<string, { address: string }>
  components: { messages: Record<string, { payload: object }> }
}
const ajv = new Ajv({ strict: false, validateFormats: false })
const checks = new Map<string, ValidateFunction>(
  Object.entries(document.components.messages).map(([name, { payload }]) => [name, ajv.compile(payload)]),
)
const faultOf = ({ channel, event }: Written): string | undefined => {
  const name = `${channel}.${event.type}`
  const check = checks.get(name)
  if (!check) return `${name} is not published`
  return check(event) ? undefined : `${name}: ${ajv.errorsText(check.errors)}`
}

let written: Written[]
beforeAll(async () => (written = [...ofADay(), ...(await ofAnOffice())]))

test('every stream that is written is published, and every published one is written here', () => {
  expect(new Set(written.map(({ channel }) => channel))).toEqual(new Set(Object.keys(document.channels)))
  for (const [channel, { address }] of Object.entries(document.channels)) expect(address).toMatch(new RegExp(`^${channel}/\\{\\w+\\}$`))
})

test('every written event is as its published schema says', () => {
  expect(written.length).toBeGreaterThan(250)
  expect(written.map(faultOf).filter(Boolean)).toEqual([])
})

test('a field more, a field less, and an event of another stream are found', () => {
  for (const { channel, event } of written) {
    expect(faultOf({ channel, event: { ...event, added: 1 } as { type: string } })).toContain('additional properties')
    expect(faultOf({ channel, event: { type: 'neverHeardOf' } })).toContain('is not published')
    const [field] = Object.keys(event).filter((name) => name !== 'type')
    const less = Object.fromEntries(Object.entries(event).filter(([name]) => name !== field))
    if (field !== undefined) expect(faultOf({ channel, event: less as { type: string } })).toContain('required')
  }
})

/** The golden day holds every kind of event of a day and of what came after its seal. */
function ofADay(): Written[] {
  return readGolden('muster-1').entries.flatMap(({ stream, events }) => events.map((event) => ({ channel: kindOf(stream), event })))
}

/** The invented academy, set up; a correction, a case, a sign-on and a reading beside it. */
async function ofAnOffice(): Promise<Written[]> {
  const ledger = memoryLedger()
  const desk = await desked(ledger)
  const { siteId, staff, students } = await demoAcademy(desk.office, desk.clock.now)
  const ines = told(staff.ines.personId, ['coordinator'], { second: staff.tomas.personId })
  const studentId = students[0]!.studentId as StudentId
  const { to, reason } = { to: students[0]!.normSex === 'M' ? ('W' as const) : ('M' as const), reason: 'Typed wrongly.' }
  granted(await desk.office.correctNormSex({ studentId, to, reason }, ines))
  const golden = readGolden('muster-1').entries
  for (const [version, entry] of golden.filter(({ stream }) => stream.startsWith('day/')).entries())
    await ledger.append(entry.stream, version, entry as never)
  const question = {
    kind: 'dispute' as const,
    stationId: null,
    question: 'The second try was faster.',
    receivedOn: '2027-06-01',
    answerBy: '2027-06-15',
  }
  const ofTheDay = { dayId: golden[0]!.stream.slice('day/'.length) as DayId, studentId: studentIn(golden) }
  granted(await desk.office.openCase({ ...ofTheDay, ...question }, told(staff.tomas.personId, ['supervisor'])))
  const access = accessRecord(ledger, { siteId: async () => siteId, clock: () => desk.clock.now, newId: () => 'sign-on-1' })
  await access.tell({ type: 'signedOn', personId: staff.ines.personId, deviceId: 'office-desk' as never })
  const weather = openWeather({ ledger, clock: { now: () => desk.clock.now }, policyOf: async () => demoPolicy })
  await weather.take(hotReading({ siteId }), safetyOfficer, envelope('reading-1', desk.clock.now))
  const streams = await everything(ledger)
  await desk.end()
  return [...streams].flatMap(([stream, entries]) =>
    stream.startsWith('day/') ? [] : entries.flatMap(({ events }) => events.map((event) => ({ channel: kindOf(stream), event }))),
  )
}

const kindOf = (stream: string): string => stream.split('/', 1)[0]!

function studentIn(golden: ReturnType<typeof readGolden>['entries']): StudentId {
  const checkedIn = golden.flatMap(({ events }) => events).find((event) => event.type === 'checkedIn')
  return (checkedIn as unknown as { studentId: StudentId }).studentId
}
