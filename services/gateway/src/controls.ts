import { memoryLedger } from '@musterbook/ledger/memory'
import type { Command } from '@musterbook/vocabulary/command'
import type { DayEvent } from '@musterbook/vocabulary/events'
import { ClassId, DayId, DeviceId, PersonId, SiteId, StationId, StudentId, TextId } from '@musterbook/vocabulary/ids'
import type { Device, HealthRecord, Office, Person, StudentOnDay } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Role, SealedText } from '@musterbook/vocabulary/people'
import type { View } from '@musterbook/vocabulary/ports'
import { accessRecord } from './access-record.ts'
import { gateway } from './gateway.ts'
import type { GatewayParts } from './parts.ts'
import { sessions } from './sessions.ts'

/** Whoever opens the medical compartment finds these words; nobody else may, anywhere. */
export const canary = 'CANARY-old-knee-operation'
export const dayId = DayId.parse('day-1')
export const studentId = StudentId.parse('student-1')
const siteId = SiteId.parse('site-1')
const pin = '4711'

/** One person for each role that people have, under the role's name. */
const people = [
  ...(['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator', 'auditor'] as const).map((role): Person => ({
    personId: PersonId.parse(role),
    name: `The ${role}`,
    roles: [role],
    qualifications: [],
    pin: 'own',
    left: false,
    badge: null,
    badgesTakenBack: [],
  })),
  // Has not chosen a PIN yet.
  {
    personId: PersonId.parse('newcomer'),
    name: 'The newcomer',
    roles: ['supervisor' as const],
    qualifications: [],
    pin: 'first' as const,
    badge: null,
    badgesTakenBack: [],
    left: false,
  },
]
const device = (deviceId: string, purpose: Device['purpose']): Device => ({
  deviceId: DeviceId.parse(deviceId),
  name: deviceId,
  purpose,
  stationId: null,
  state: 'enrolled',
  expiresAt: 0,
  locked: null,
})
/** One staff device for each role, and one of each purpose. */
const devices = [
  ...(['kiosk', 'board', 'staff'] as const).map((purpose) => device(purpose, purpose)),
  ...people.map(({ personId }) => device(`staff-${personId}`, 'staff')),
]
const student: StudentOnDay = {
  studentId,
  name: 'Sunniva Pell',
  familyName: 'Pell',
  givenName: 'Sunniva',
  code: 'LARK-7-108',
  classId: ClassId.parse('lark-7'),
  face: 'pell',
  photoDigest: null,
  lookAlike: [],
  language: 'en',
}
const health: HealthRecord = {
  studentId,
  answers: [{ dayId, setId: 'questions', answers: { q1: canary }, givenAt: 1 }],
  notes: [{ dayId, kind: 'note', about: null, text: canary, writtenBy: PersonId.parse('screener'), writtenAt: 1 }],
}

/** An office of one answer to each question. What a test does not expect to be asked throws. */
function plainOffice(): Office {
  let texts = 0
  const words = new Map<string, string>()
  const done = async () => ({ done: true })
  const known: Partial<Office> = {
    setUpNeeded: async () => false,
    site: async () => ({ siteId, name: 'Skarnvale', timeZone: 'Europe/Oslo' }),
    setUp: async () => officeRefusal('alreadySetUp'),
    people: async () => people,
    person: async (personId) => people.find((person) => person.personId === personId) ?? null,
    provePerson: async (personId, told) => {
      const person = people.find((one) => one.personId === personId)
      return person && told === pin ? { person } : officeRefusal('wrongPin')
    },
    qualifiedFor: async () => [StationId.parse('bench')],
    devices: async () => devices,
    deviceOf: async (token) => devices.find(({ deviceId }) => deviceId === token) ?? null,
    enrolDevice: async () => officeRefusal('codeNotKnown'),
    classes: async () => [],
    student: async () => null,
    studentsOfClass: async () => [],
    studentsOnDay: async () => [student],
    lookUp: async () => ({ student, normSex: 'W', ageYears: 24 }),
    keepPhoto: async () => officeRefusal('photoUnusable'),
    keepEvidence: async () => officeRefusal('evidenceUnusable'),
    evidence: async () => null,
    photo: async () => null,
    previewRoster: async () => officeRefusal('fileUnreadable', { why: 'it is none' }),
    venue: async () => ({ zones: [], stations: [] }),
    equipment: async () => [],
    rules: async () => [],
    cases: async () => [],
    findStudents: async () => [],
    recordsPolicy: async () => null,
    emergencyCard: async () => null,
    erasures: async () => [],
    case: async () => null,
    composeDay: async () => ({ missing: ['No heat policy is in force.'] }),
    async seal(text, about): Promise<SealedText> {
      const textId = TextId.parse(`text-${++texts}`)
      if (about === 'general') words.set(textId, text)
      return { textId, digest: texts.toString(16).padStart(64, '0') }
    },
    openText: async (textId) => words.get(textId) ?? null,
    healthQuestions: async () => null,
    answerHealth: async () => ({ kept: true }),
    noteHealth: async () => ({ kept: true }),
    openHealth: async (_body, { by }, log) => {
      await log({ type: 'healthOpened', personId: by.personId!, deviceId: by.deviceId, studentId, dayId: null })
      return health
    },
    openHealthInEmergency: async () => ({ ...health, openingId: 'opening-1' }),
    openMedicalText: async () => ({ text: canary }),
    openingsToReview: async () => [],
    reviewOpening: async () => ({ openingId: 'opening-1' }),
  }
  return new Proxy(known as Office, { get: (office, name) => Reflect.get(office, name) ?? done })
}

export interface House {
  app: ReturnType<typeof gateway>
  parts: GatewayParts
  /** What the day was told: it grants everything. */
  told: Command[]
  broken: unknown[]
  /** Asks as whoever stands behind `cookie`. */
  ask(method: string, path: string, asked?: { cookie?: string; body?: unknown; headers?: Record<string, string> }): Promise<Response>
  /** The cookie of a device with a person of that role signed on at it: each role's own device, unless one is named. For `device` and `kiosk`, nobody. */
  cookieOf(role: Role, deviceId?: string): Promise<string>
}

/** The gateway over plain parts: tests say what matters to them and leave the rest. */
export function house(changes: Partial<GatewayParts> = {}): House {
  const told: Command[] = []
  const broken: unknown[] = []
  let ids = 0
  const newId = () => `id-${++ids}`
  const clock = () => Date.UTC(2027, 4, 11, 8)
  const ledger = memoryLedger()
  const office = plainOffice()
  const access = accessRecord(ledger, { siteId: async () => siteId, clock, newId })
  const row: View = { version: 3, body: { nothing: 'here' } }

  const parts: GatewayParts = {
    testDay: {
      async tell(command) {
        told.push(command)
        return { recorded: { stream: `day/${dayId}`, version: told.length, events: [] as DayEvent[] }, toldTwice: false }
      },
    },
    weather: {
      take: async () => ({ siteVersion: 1, wbgtTenths: 270, unit: 'degC', band: 'none', usable: true, questions: [], calledHold: false }),
      headOf: async () => 1,
    },
    views: {
      get: async () => row,
      async *watch() {
        yield row
      },
      days: async () => [row],
      lags: () => [],
    },
    office,
    // Streams end as soon as all that stood is sent.
    ledger: { ...ledger, async *follow() {} },
    access,
    seals: {
      fingerprint: 'f'.repeat(64),
      sealOf: async () => undefined,
      proofOf: async () => undefined,
      bundleOf: async () => undefined,
      signedFile: (page) => page,
    },
    replay: { entriesOf: async () => [], newest: async () => undefined },
    contacts: { ages: () => new Map(), heard: () => {} },
    sessions: sessions({ steady: () => performance.now(), lockAfterMs: 60_000, onEnd: () => {} }),
    lockAfterMs: 60_000,
    clock,
    speed: 1,
    rehearsalOnly: false,
    newId,
    disk: () => ({ ok: true, says: null }),
    files: async () => undefined,
    secure: false,
    onBroken: (error) => broken.push(error),
    ...changes,
  }
  const app = gateway(parts)

  const ask: House['ask'] = async (method, path, { cookie, body, headers = {} } = {}) =>
    app.request(path, {
      method,
      headers: { ...(cookie !== undefined && { cookie }), ...(body !== undefined && { 'content-type': 'application/json' }), ...headers },
      ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    })

  return {
    app,
    parts,
    told,
    broken,
    ask,
    async cookieOf(role, deviceId) {
      if (role === 'device' || role === 'kiosk') return `musterbook-device=${deviceId ?? (role === 'kiosk' ? 'kiosk' : 'staff')}`
      const cookie = `musterbook-device=${deviceId ?? `staff-${role}`}`
      const signedOn = await ask('POST', '/api/session', { cookie, body: { personId: role, pin } })
      return `${cookie}; ${signedOn.headers.get('set-cookie')!.split(';')[0]}`
    },
  }
}

export const envelope = (commandId: string) => ({
  commandId,
  deviceSequence: 1,
  occurredAt: 1_810_000_000_000,
  steadyMs: 5,
  offsetMs: 0,
  bandMs: 20,
  seenVersion: 1,
  contactAgeMs: 0,
  decidedOnDevice: false,
})
