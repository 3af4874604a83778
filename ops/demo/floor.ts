import type { ActName } from '@musterbook/vocabulary/act-table'
import type { DemoAcademy, DemoStaff } from '@musterbook/office/demo-academy'
import { DeviceClient, type Heard } from '../device-client.ts'
import type { Pace } from './pace.ts'

/** What the driver knows of the academy: codes of devices, PINs of staff, ids of students. Invented, all of it. */
export type AcademyNotes = Pick<DemoAcademy, 'siteId' | 'classId' | 'staff' | 'desk' | 'devices' | 'students'> & { dayId: string }

const crew: readonly { device: string; person: DemoStaff | null }[] = [
  { device: 'Kiosk', person: null },
  { device: 'Greeter', person: 'sanne' },
  { device: 'Medical 1', person: 'petra' },
  { device: 'Medical 2', person: 'dai' },
  { device: 'Scale and skinfolds', person: 'juno' },
  { device: 'Agility', person: 'mira' },
  { device: 'Reach', person: 'juno' },
  { device: 'Bench 1', person: 'colm' },
  { device: 'Bench 2', person: 'colm' },
  { device: 'Track 1', person: 'wren' },
  { device: 'Track 2', person: 'bo' },
  { device: 'Safety', person: 'rashid' },
  { device: 'Office desk', person: 'tomas' },
  { device: 'Board', person: null },
]

/** The fourteen devices of the day, somebody signed on at each that needs it. */
export class Floor {
  readonly notes: AcademyNotes
  readonly pace: Pace
  private readonly devices = new Map<string, DeviceClient>()
  private readonly people = new Map<string, DemoStaff | null>()
  address = ''
  told = 0
  refused: string[] = []
  acknowledged: { device: string; commandId: string; version: number }[] = []

  constructor(notes: AcademyNotes, pace: Pace) {
    this.notes = notes
    this.pace = pace
  }

  async takeUp(address: string): Promise<void> {
    this.address = address
    for (const { device, person } of crew) {
      const client = new DeviceClient(address, device, () => this.pace.now())
      const invited = this.notes.devices.find((one) => one.name === device)
      if (invited) await client.enrol(invited.code)
      else client.takeToken(this.notes.desk.token)
      this.devices.set(device, client)
      this.people.set(device, person)
    }
    // A code lasts an hour of the site's time: every device is enrolled before the first PIN is typed.
    for (const { device } of crew) await this.signOn(device)
  }

  private readonly signing = new Map<string, Promise<void>>()

  /** One PIN at a time at a device, as it is on the floor: several at once would count as tries. */
  private signOn(device: string, person = this.people.get(device)): Promise<void> {
    if (!person) return Promise.resolve()
    const { personId, pin } = this.notes.staff[person]
    this.people.set(device, person)
    const signed =
      this.signing.get(device) ??
      this.client(device)
        .signOn(personId, pin)
        .finally(() => this.signing.delete(device))
    this.signing.set(device, signed)
    return signed
  }

  /** The same devices, of a site that is reached elsewhere now. */
  moveTo(address: string): void {
    for (const client of this.devices.values()) client.address = address
  }

  client(device: string): DeviceClient {
    const client = this.devices.get(device)
    if (!client) throw new Error(`no device called ${device}`)
    return client
  }

  /** Somebody else takes over a device, as they do all day. */
  relieve = (device: string, person: DemoStaff) => this.signOn(device, person)

  /** Tells the day at a planned instant; a refusal is noted and handed back. A screen that has locked, or a server that was restarted, is signed on again. */
  async tell(device: string, act: ActName, body: object, more: { at?: number; countersign?: DemoStaff } = {}): Promise<Heard> {
    const client = this.client(device)
    const envelope = client.stamp(more.at === undefined ? this.pace.now() : Math.min(more.at, this.pace.now()))
    const countersign = more.countersign && {
      personId: this.notes.staff[more.countersign].personId,
      pin: this.notes.staff[more.countersign].pin,
    }
    for (let tries = 0; ; tries++) {
      const heard = await client.tell(this.notes.dayId, act, body, { envelope, ...(countersign && { countersign }) })
      if ((heard.status === 401 || heard.status === 403) && !heard.body['refused'] && tries < 3 && this.people.get(device)) {
        await this.signOn(device)
        continue
      }
      this.told += 1
      const recorded = heard.body['recorded'] as { version: number } | undefined
      if (recorded) this.acknowledged.push({ device, commandId: envelope.commandId, version: recorded.version })
      else
        this.refused.push(
          `${act}: ${heard.status} ${(heard.body['refused'] as { rule?: string } | undefined)?.rule ?? String(heard.body['detail'] ?? heard.body['title'])}`,
        )
      return heard
    }
  }

  /** A code with which one more staff device is enrolled. */
  async invite(name: string): Promise<string> {
    for (let tries = 0; ; tries++) {
      const heard = await this.client('Office desk').post('/api/devices/codes', { name, purpose: 'staff', stationId: null })
      if (typeof heard.body['code'] === 'string') return heard.body['code']
      if (tries === 3) throw new Error(`no code for a device: ${heard.status}`)
      await this.signOn('Office desk')
    }
  }

  async view<Body>(device: string, view: string, key = 'all'): Promise<Body> {
    for (let tries = 0; ; tries++) {
      const heard = await this.client(device).get(`/api/days/${this.notes.dayId}/views/${view}/${key}`)
      if (heard.status === 401 && tries < 3) {
        await this.signOn(device)
        continue
      }
      return heard.body['body'] as Body
    }
  }

  async reading(device: string, tenths: number, { settled = true, at }: { settled?: boolean; at?: number } = {}): Promise<string> {
    const client = this.client(device)
    const readingId = `reading-${this.pace.now()}`
    const body = {
      readingId,
      siteId: this.notes.siteId,
      zoneId: 'track',
      instrumentId: 'W-1',
      naturalWetBulb: null,
      globe: null,
      dryBulb: null,
      wbgt: { amount: tenths, unit: 'tenthsDegC', resolution: 1, method: 'instrument' },
      sun: true,
      wetBulbKind: 'natural',
      globeDiameterMm: 150,
      settled,
      confirmed: [],
    }
    const envelope = client.stamp(at ?? this.pace.now())
    for (let tries = 0; tries < 3; tries++) {
      const heard = await client.post(`/api/sites/${this.notes.siteId}/readings`, { envelope, body })
      if (heard.status === 401 || heard.status === 403) {
        await this.signOn(device)
        continue
      }
      if (heard.status !== 201) this.refused.push(`reading: ${heard.status} ${JSON.stringify(heard.body).slice(0, 200)}`)
      break
    }
    return readingId
  }
}

export const isRecorded = (heard: Heard): boolean => heard.status === 201
