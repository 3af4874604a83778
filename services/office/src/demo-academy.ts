import type { Role } from '@musterbook/vocabulary/people'
import type { ClassId, CommandId, DeviceId, PersonId, SiteId, StudentId } from '@musterbook/vocabulary/ids'
import { emergencyCardId } from '@musterbook/vocabulary/emergency-card'
import {
  type AddPerson,
  type InviteDevice,
  type Office,
  type ProposeAdoption,
  type RegisterEquipment,
  type Said,
  SetUp,
  type Told,
} from '@musterbook/vocabulary/office'
import type { z } from 'zod'
import { demoEmergencyCard } from './demo-emergency-card.ts'
import { type DemoStudent, demoStudents } from './demo-students.ts'

export interface DemoAcademy {
  siteId: SiteId
  classId: ClassId
  /** By the short name below. */
  staff: Record<DemoStaff, { personId: PersonId; name: string; pin: string; roles: readonly Role[] }>
  /** The set-up's device, enrolled: `token` is what its cookie carries. */
  desk: { deviceId: DeviceId; token: string }
  /** The other thirteen, each to be enrolled with its code within the hour. */
  devices: (InviteDevice & { deviceId: DeviceId; code: string })[]
  students: (DemoStudent & { studentId: StudentId })[]
}
export type DemoStaff = keyof typeof staff

/** The test day of the demonstration. */
export const demoDay = { date: '2027-05-11', title: 'Entry test, class Lark-7' }

/** Invented people. Their PINs stand here for everybody to read, and are for the demonstration alone. */
const staff = {
  ines: { name: 'Ines Varga', roles: ['coordinator'], pin: '270511', at: [] },
  tomas: { name: 'Tomas Lindqvist', roles: ['supervisor'], pin: '481927', at: [] },
  petra: { name: 'Petra Holm', roles: ['screener'], pin: '630814', at: [] },
  dai: { name: 'Dai Morcant', roles: ['screener'], pin: '752046', at: [] },
  rashid: { name: 'Rashid Benning', roles: ['safety'], pin: '819365', at: [] },
  wren: { name: 'Wren Adeyemi', roles: ['station'], pin: '394071', at: ['run'] },
  colm: { name: 'Colm Sato', roles: ['station'], pin: '528416', at: ['bench'] },
  mira: { name: 'Mira Delacroix', roles: ['station'], pin: '905273', at: ['agility'] },
  juno: { name: 'Juno Haas', roles: ['station'], pin: '167492', at: ['skinfold', 'reach'] },
  bo: { name: 'Bo Ekström', roles: ['station'], pin: '246803', at: ['run', 'agility'] },
  sanne: { name: 'Sanne Okoro', roles: ['greeter'], pin: '713958', at: [] },
} as const satisfies Record<string, { name: string; roles: Role[]; pin: string; at: string[] }>

/** Six laps of 400 m begin 14.016 m behind the line, so that they are a mile and a half. */
const site = {
  name: 'Skarnvale Mountain Rescue Academy (invented)',
  timeZone: 'Europe/Oslo',
  zones: [
    { zoneId: 'gym', name: 'Gym', outdoor: false, track: null, shelter: null, coolingPoint: 'Ice box by the store room' },
    {
      zoneId: 'track',
      name: 'Track',
      outdoor: true,
      track: { lapMm: 400_000, startOffsetMm: 14_016 },
      shelter: 'Timing hut',
      coolingPoint: 'Shade tent with the cold tub',
    },
    { zoneId: 'medical', name: 'Medical room', outdoor: false, track: null, shelter: null, coolingPoint: null },
  ],
  stations: [
    { stationId: 'skinfold', name: 'Skinfolds', zoneId: 'gym', kind: 'skinfold', protocolId: 'skinfold' },
    { stationId: 'agility', name: 'Agility', zoneId: 'gym', kind: 'timed', protocolId: 'agility' },
    { stationId: 'reach', name: 'Sit and reach', zoneId: 'gym', kind: 'measured', protocolId: 'sitAndReach' },
    { stationId: 'bench', name: 'Bench press', zoneId: 'gym', kind: 'loaded', protocolId: 'benchPress' },
    { stationId: 'run', name: 'Run', zoneId: 'track', kind: 'run', protocolId: 'run' },
  ],
}

type Register = z.input<typeof RegisterEquipment>
const item = (
  equipmentId: string,
  name: string,
  kind: Register['kind'],
  stationId: string | null,
  tolerance: Register['tolerance'],
  footLineMm: number | null = null,
): Register =>
  ({ equipmentId, name, kind, stationId: stationId as Register['stationId'], tolerance, dueOn: '2027-12-31', footLineMm }) as Register
/** Tolerances are the demonstration's own. */
const equipment: readonly Register[] = [
  item('S-1', 'Scale S-1', 'scale', null, { amount: 100, unit: 'grams' }),
  item('S-2', 'Scale S-2', 'scale', null, { amount: 100, unit: 'grams' }),
  item('C-1', 'Caliper C-1', 'caliper', 'skinfold', { amount: 1, unit: 'halfMillimetres' }),
  item('C-2', 'Caliper C-2', 'caliper', null, { amount: 1, unit: 'halfMillimetres' }),
  item('R-1', 'Reach box R-1', 'box', 'reach', { amount: 2, unit: 'millimetres' }, 260),
  item('B-1', 'Bar and plates B-1', 'barAndPlates', 'bench', { amount: 100, unit: 'grams' }),
  item('B-2', 'Bar and plates B-2', 'barAndPlates', 'bench', { amount: 100, unit: 'grams' }),
  item('T-1', 'Stopwatch T-1', 'stopwatch', 'agility', { amount: 10, unit: 'hundredthsOfSecond' }),
  item('T-2', 'Stopwatch T-2', 'stopwatch', 'run', { amount: 10, unit: 'hundredthsOfSecond' }),
  item('W-1', 'WBGT meter W-1', 'wbgtMeter', null, { amount: 5, unit: 'tenthsDegC' }),
]

const device = (name: string, purpose: InviteDevice['purpose'], stationId: string | null = null) =>
  ({ name, purpose, stationId }) as InviteDevice
/** With the set-up's own there are fourteen. */
const devices: readonly InviteDevice[] = [
  device('Kiosk', 'kiosk'),
  device('Board', 'board'),
  device('Greeter', 'staff'),
  device('Medical 1', 'staff'),
  device('Medical 2', 'staff'),
  device('Scale and skinfolds', 'staff', 'skinfold'),
  device('Agility', 'staff', 'agility'),
  device('Reach', 'staff', 'reach'),
  device('Bench 1', 'staff', 'bench'),
  device('Bench 2', 'staff', 'bench'),
  device('Track 1', 'staff', 'run'),
  device('Track 2', 'staff', 'run'),
  device('Safety', 'staff'),
]

const adopted: readonly z.infer<typeof ProposeAdoption>[] = [
  ...['skinfold', 'agility', 'sitAndReach', 'benchPress', 'run'].map((id) => ({ kind: 'protocol' as const, id })),
  { kind: 'norms', id: 'FX-1' },
  { kind: 'heatPolicy', id: 'HP-1' },
  { kind: 'dayPolicy', id: 'DP-1' },
  { kind: 'healthQuestions', id: 'HQ-1' },
  { kind: 'recordsPolicy', id: 'RP-1' },
  { kind: 'emergencyCard', id: emergencyCardId, content: { ...demoEmergencyCard } },
]

/**
 * Sets an empty office up as the invented Skarnvale Mountain Rescue Academy, in the way a coordinator would: one-time code, people, devices,
 * venue, register, a roster file, and every rule adopted by two people. `now`: the ledger's clock, epoch ms. Throws when the office refuses any of it.
 */
export async function demoAcademy(office: Office, now: number): Promise<DemoAcademy> {
  const told = teller(now)
  const code = await office.newSetUpCode()
  if (code === null) throw new Error('this data folder is set up already: the demonstration needs an empty one')
  const body = SetUp.parse({
    code,
    site: { siteId: 'skarnvale', ...site },
    coordinator: { name: staff.ines.name, pin: staff.ines.pin },
    deviceName: 'Office desk',
  })
  const { siteId, personId: ines, deviceId, deviceToken } = granted(await office.setUp(body, told(null, [])))
  const asInes = () => told(ines, ['coordinator'], deviceId)

  const people = await addStaff(office, ines, asInes)
  const invited = []
  for (const each of devices) {
    const { code, deviceId } = granted(await office.inviteDevice(each, asInes()))
    invited.push({ ...each, code, deviceId })
  }
  for (const each of equipment) granted(await office.registerEquipment(each as z.infer<typeof RegisterEquipment>, asInes()))
  for (const rule of adopted) {
    const { proposalId } = granted(await office.proposeAdoption(rule, asInes()))
    granted(await office.confirmAdoption({ proposalId }, told(people.tomas.personId, ['supervisor'], deviceId)))
  }
  return { siteId, staff: people, desk: { deviceId, token: deviceToken }, devices: invited, ...(await enrol(office, asInes)) }
}

async function addStaff(office: Office, ines: PersonId, asInes: () => Told): Promise<DemoAcademy['staff']> {
  const added: Partial<DemoAcademy['staff']> = {}
  for (const [short, { name, roles, pin, at }] of Object.entries(staff) as [DemoStaff, (typeof staff)[DemoStaff]][]) {
    const qualifications = at.map((stationId) => ({ stationId: stationId as never, until: '2028-05-31' }))
    const personId = short === 'ines' ? ines : await withOwnPin(office, { name, roles: [...roles], qualifications, pin }, asInes)
    added[short] = { personId, name, pin, roles }
  }
  return added as DemoAcademy['staff']
}

/** A first PIN from the coordinator, which its person changes at once. */
async function withOwnPin(office: Office, person: AddPerson & { pin: string }, told: () => Told): Promise<PersonId> {
  const firstPin = [...person.pin].reverse().join('')
  const { personId } = granted(await office.addPerson({ ...person, pin: firstPin }, told()))
  const asInes = told()
  const asThem = { ...asInes, by: { ...asInes.by, personId, roles: person.roles } }
  granted(await office.changeOwnPin({ oldPin: firstPin, newPin: person.pin }, asThem))
  return personId
}

/** Through the same door as any roster: a file, a preview, an acceptance. */
async function enrol(office: Office, asInes: () => Told): Promise<Pick<DemoAcademy, 'classId' | 'students'>> {
  const preview = granted(await office.previewRoster(new TextEncoder().encode(demoRoster()), { dateOrder: 'ymd' }))
  const { taken, newClasses } = granted(await office.acceptRoster({ previewId: preview.previewId, choices: {} }, asInes()))
  const [classId] = newClasses
  if (!classId || taken.length !== demoStudents.length)
    throw new Error(`of ${demoStudents.length} demo students ${taken.length} were enrolled`)
  const idOf = new Map(taken.map(({ code, studentId }) => [code, studentId]))
  return { classId, students: demoStudents.map((each) => ({ ...each, studentId: idOf.get(each.code) as StudentId })) }
}

function demoRoster(): string {
  const header = 'Code;Family name;Given name;Birth date;Norm sex;Class;Language'
  const rows = demoStudents.map(({ code, familyName, givenName, birthDate, normSex, language }) =>
    [code, familyName, givenName, birthDate, normSex, 'Lark-7', language].join(';'),
  )
  return [header, ...rows].join('\r\n')
}

/** Commands of the seed, one id each. */
function teller(now: number) {
  let count = 0
  return (personId: PersonId | null, roles: readonly Role[], deviceId = 'demo-seed' as DeviceId): Told => {
    count += 1
    return {
      by: { personId, roles, deviceId, countersigned: null },
      envelope: {
        commandId: `demo-academy-${count}` as CommandId,
        deviceSequence: count,
        occurredAt: now,
        steadyMs: null,
        offsetMs: 0,
        bandMs: 0,
        seenVersion: 0,
        contactAgeMs: 0,
        decidedOnDevice: false,
      },
    }
  }
}

function granted<T extends object>(said: Said<T>): T {
  if ('refused' in said) throw new Error(`the demonstration was refused: ${said.refused.says}`)
  return said as T
}
