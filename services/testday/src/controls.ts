import { demoPolicy } from '@musterbook/heat/policies'
import { digest } from '@musterbook/evidence/canonical'
import type { Draft, Entry, Ledger } from '@musterbook/ledger/ledger'
import { demoProtocols } from '@musterbook/stations/demo-protocols'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { Command } from '@musterbook/vocabulary/command'
import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import type { CommandId, DayId, DeviceId, PersonId } from '@musterbook/vocabulary/ids'
import { OpenDay } from '@musterbook/vocabulary/opening'
import { SiteEvent } from '@musterbook/vocabulary/site'

/** Plausible commands and site entries, so that a test says only what matters to it. Invented data. */
export const start = Date.UTC(2027, 4, 11, 8, 0)
export const minute = 60_000

const zoneOfProtocol: Record<string, string> = { run: 'track', agility: 'hall', benchPress: 'hall', sitAndReach: 'hall', skinfold: 'hall' }

export const opening = (dayId: string, students = 3, changes: { siteId?: string; rehearsal?: boolean } = {}) =>
  OpenDay.parse({
    facts: {
      dayId,
      siteId: changes.siteId ?? 'skarnvale',
      date: '2027-05-11',
      timeZone: 'Etc/GMT-2',
      utcOffsetMinutes: 120,
      title: 'Entry test of Lark-7',
      rehearsal: changes.rehearsal ?? true,
    },
    rules: {
      ruleSet: 'muster-1',
      rulesVersion: 1,
      stations: demoProtocols.map((protocol) => ({
        stationId: protocol.protocolId,
        zoneId: zoneOfProtocol[protocol.protocolId],
        protocol,
        equipmentIds: [],
      })),
      zones: [
        { zoneId: 'track', name: 'Track', outdoor: true },
        { zoneId: 'hall', name: 'Hall', outdoor: false },
      ],
      heatPolicy: demoPolicy,
      norms: [],
      standard: null,
      contactAgeMs: 5 * minute,
      witnessWindowMs: minute,
      leapBirthday: 'march1',
      lightningMinutes: 30,
      retestDays: 14,
      briefing: 'asked',
    },
    expected: Array.from({ length: students }, (_, index) => ({
      studentId: `s${index + 1}`,
      classId: 'lark-7',
      normGroup: { sex: index % 2 ? 'W' : 'M', ageYears: 24 },
      language: 'en',
      retest: null,
    })),
  })

export const supervisor: By = {
  personId: 'tomas' as PersonId,
  roles: ['supervisor', 'screener', 'station', 'safety', 'greeter'],
  deviceId: 'tablet-1' as DeviceId,
  countersigned: null,
}

let told = 0
/** A command as a screen would send it; its id is new unless one is given. */
export function command<A extends ActName>(
  dayId: string,
  act: A,
  body: object,
  changes: { id?: string; by?: By; envelope?: Partial<Envelope> } = {},
): Command {
  told += 1
  return {
    act,
    dayId: dayId as DayId,
    by: changes.by ?? supervisor,
    envelope: {
      commandId: (changes.id ?? `c-${told}`) as CommandId,
      deviceSequence: 1,
      occurredAt: start,
      steadyMs: 1_000,
      offsetMs: 0,
      bandMs: 20,
      seenVersion: 0,
      contactAgeMs: 0,
      decidedOnDevice: false,
      ...changes.envelope,
    },
    body: body as BodyOf<A>,
  }
}

/** What the weather service writes for a reading; `wbgtTenths` of 280 and more calls for a hold. */
export function siteEntry(
  version: number,
  wbgtTenths: number,
  readAt: number,
  changes: { commandId?: string; zoneId?: string } = {},
): Draft {
  const zoneId = changes.zoneId ?? 'track'
  const value = (amount: number) => ({ amount, unit: 'tenthsDegC', resolution: 1, method: 'instrument' })
  const taken = {
    type: 'readingTaken',
    readingId: `reading-${version}`,
    siteId: 'skarnvale',
    zoneId,
    instrumentId: 'meter-1',
    naturalWetBulb: null,
    globe: null,
    dryBulb: null,
    wbgt: value(wbgtTenths),
    sun: true,
    wetBulbKind: 'natural',
    globeDiameterMm: 150,
    settled: true,
    confirmed: [],
    readBy: 'rashid',
    wbgtTenths,
    unit: 'degC',
    band: 'any',
    usable: true,
    questions: [],
    method: 'instrument',
  }
  const calls = { type: 'holdCalledFor', holdId: `heat-${version}`, readingId: `reading-${version}`, zoneId, policyId: 'HP-1' }
  const commandId = changes.commandId ?? `weather-${version}`
  return {
    meta: {
      commandId,
      command: 'takeReading',
      bodyDigest: digest({ commandId }),
      personId: 'rashid',
      deviceId: 'tablet-safety',
      deviceSequence: version,
      occurredAt: readAt,
      steadyMs: 1_000,
      offsetMs: 0,
      bandMs: 20,
      seenVersion: 0,
    },
    recordedAt: readAt + 100,
    events: (wbgtTenths >= 280 ? [taken, calls] : [taken]).map((event) => SiteEvent.parse(event)),
  }
}

/** A ledger whose every call can be changed; what is not changed goes through. */
export const ledgerWith = (ledger: Ledger, changes: Partial<Ledger>): Ledger => ({
  read: (...asked) => ledger.read(...asked),
  head: (...asked) => ledger.head(...asked),
  streams: (...asked) => ledger.streams(...asked),
  find: (...asked) => ledger.find(...asked),
  append: (...asked) => ledger.append(...asked),
  seal: (...asked) => ledger.seal(...asked),
  follow: (...asked) => ledger.follow(...asked),
  close: () => ledger.close(),
  ...changes,
})

export async function entriesOf(ledger: Ledger, stream: string): Promise<Entry[]> {
  const entries: Entry[] = []
  for await (const entry of ledger.read(stream, 0)) entries.push(entry)
  return entries
}

/** Tries until `holds` says yes; fails after five seconds with what it said last. */
export async function eventually<T>(ask: () => Promise<T> | T, holds: (answer: T) => boolean): Promise<T> {
  const until = Date.now() + 5_000
  for (;;) {
    const answer = await ask()
    if (holds(answer)) return answer
    if (Date.now() > until) throw new Error(`it never came true; last: ${JSON.stringify(answer)}`)
    await new Promise((resolve) => setTimeout(resolve, 5))
  }
}
