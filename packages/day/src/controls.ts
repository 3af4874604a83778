import { isFrom } from '@musterbook/heat/classify'
import { demoPolicy } from '@musterbook/heat/policies'
import { demoNorms } from '@musterbook/scoring/demo-norms'
import { demoStandard } from '@musterbook/scoring/demo-standard'
import { demoProtocols } from '@musterbook/stations/demo-protocols'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { Command } from '@musterbook/vocabulary/command'
import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { Role, SealedText } from '@musterbook/vocabulary/people'
import type { Expected } from '@musterbook/vocabulary/opening'
import type { DayFacts, DayRules, PinnedStation } from '@musterbook/vocabulary/rules'
import { emptyDay, type Day } from './day.ts'
import { decide } from './decide.ts'
import type { Decision, Now } from './decision.ts'
import { evolve, type DayEntry } from './evolve.ts'
import { raisesHold } from './hold/raise-hold.ts'

/*
 * Plausible commands, events and days for tests, so that a test says only what matters to it. Invented: the Skarnvale
 * Mountain Rescue Academy, class Lark-7, the norms FX-1 and the policy HP-1.
 */

/** Epoch milliseconds of a clock time at the site on the test day, '10:15:07.3'. */
export function clock(time: string): number {
  const [hours = 0, minutes = 0, seconds = 0] = time.split(':').map(Number)
  return Date.UTC(2027, 4, 11, -2) + hours * 3_600_000 + minutes * 60_000 + Math.round(seconds * 1000)
}

export const dayId = 'skarnvale-2027-05-11' as DayId

const places: Record<string, { zoneId: string; equipmentIds: string[] }> = {
  skinfold: { zoneId: 'gym', equipmentIds: ['caliper-1'] },
  agility: { zoneId: 'gym', equipmentIds: ['watch-1'] },
  sitAndReach: { zoneId: 'gym', equipmentIds: ['box-1'] },
  benchPress: { zoneId: 'gym', equipmentIds: ['bench-1'] },
  run: { zoneId: 'track', equipmentIds: [] },
}

export const demoStations: readonly PinnedStation[] = demoProtocols.map(
  (protocol) => ({ stationId: protocol.protocolId, ...places[protocol.protocolId], protocol }) as unknown as PinnedStation,
)

export const demoRules = (over: Partial<DayRules> = {}): DayRules =>
  ({
    ruleSet: 'muster-1',
    rulesVersion: 1,
    stations: demoStations,
    zones: [
      { zoneId: 'gym', name: 'Gym', outdoor: false },
      { zoneId: 'track', name: 'Track', outdoor: true },
    ],
    heatPolicy: demoPolicy,
    norms: demoNorms,
    standard: demoStandard,
    contactAgeMs: 300_000,
    witnessWindowMs: 60_000,
    leapBirthday: 'march1',
    lightningMinutes: 30,
    retestDays: 14,
    briefing: 'asked',
    ...over,
  }) as unknown as DayRules

export const demoFacts = (over: Partial<DayFacts> = {}): DayFacts =>
  ({
    dayId,
    siteId: 'skarnvale',
    date: '2027-05-11',
    timeZone: 'Europe/Oslo',
    utcOffsetMinutes: 120,
    title: 'Entry test, Lark-7',
    rehearsal: false,
    ...over,
  }) as DayFacts

/** '108 W 24' is student s108, wearing bib 108 once bound, of norm group W at 24. Without more: M, 24. */
export function expected(who: string, over: Partial<Expected> = {}): Expected {
  const [bib = '', sex = 'M', age = '24'] = who.split(' ')
  const normGroup = { sex: sex as 'M' | 'W', ageYears: Number(age) }
  return { studentId: `s${bib}`, classId: 'lark-7', normGroup, language: 'en', retest: null, ...over } as Expected
}

export const studentId = (bib: string) => `s${bib}` as Expected['studentId']

const someone = (personId: string, deviceId: string, ...roles: Role[]): By =>
  ({ personId, roles, deviceId, countersigned: null }) as unknown as By

/** The staff of the day, each at a tablet. */
export const ines = someone('ines', 'office-1', 'coordinator')
export const tomas = someone('tomas', 'supervisor-1', 'supervisor')
export const petra = someone('petra', 'medical-1', 'screener')
export const dai = someone('dai', 'medical-2', 'screener')
export const rashid = someone('rashid', 'safety-1', 'safety')
export const wren = someone('wren', 'track-1', 'station')
export const colm = someone('colm', 'bench-1', 'station')
export const mira = someone('mira', 'agility-1', 'station')
export const juno = someone('juno', 'reach-1', 'station')
export const bo = someone('bo', 'spare-1', 'station')
export const kiosk = { ...someone('', 'kiosk-1', 'kiosk'), personId: null } as By
/** An enrolled device with nobody signed on. */
export const locked = { ...someone('', 'track-2', 'device'), personId: null } as By

export const withSecond = (by: By, second: By): By => ({
  ...by,
  countersigned: { personId: second.personId as never, roles: second.roles },
})

/** Free text as the day sees it: sealed elsewhere. */
export const words: SealedText = { textId: 'text-1', digest: 'd'.repeat(64) } as SealedText

export const measured = (amount: number, unit: Measured['unit'], method = 'hand'): Measured => ({ amount, unit, resolution: 1, method })
export const seconds = (hundredths: number): Measured => measured(hundredths, 'hundredthsOfSecond')
export const reach = (millimetres: number): Measured => measured(millimetres, 'millimetres', 'footLine260mm')
export const kilograms = (tenths: number): Measured => measured(tenths, 'tenthsKg', 'loaded')
export const mass = (hundredths: number): Measured => measured(hundredths, 'hundredthsKg', 'scale')

/** What a test may say of the moment of a command; the rest is plausible. `at`: a clock time. */
export interface Moment extends Partial<Omit<Envelope, 'occurredAt'>> {
  at?: string
  occurredAt?: number
  now?: Partial<Now>
}

/** A day that is driven by commands through decide and evolve, its entries numbered from 1: all that a ledger would hold. */
export interface Drive {
  readonly day: Day
  readonly entries: readonly DayEntry[]
  /** The ledger's clock; a second passes with each step unless a step sets it. */
  time: number
  tell<A extends ActName>(act: A, by: By, body: BodyOf<A>, moment?: Moment): Told
  /** Puts events into the day that come from elsewhere: what its site heard. */
  enter(events: readonly DayEvent[], meta?: Partial<DayEntry['meta']>): DayEntry
  /** A reading of the site, in force, with the hold that it calls for. */
  reading(
    degrees: number,
    more?: Partial<Omit<DayEventOf<'readingReceived'>, 'type' | 'readAt'>> & { readAt?: string; late?: number },
  ): DayEntry
}
export interface Told extends Decision {
  command: Command
  version: number
}

export function drive(day: Day = emptyDay(dayId)): Drive {
  return new Driven(day)
}

class Driven implements Drive {
  day: Day
  readonly entries: DayEntry[] = []
  time = clock('08:00')
  #commands = 0

  constructor(day: Day) {
    this.day = day
  }

  tell<A extends ActName>(act: A, by: By, body: BodyOf<A>, moment: Moment = {}): Told {
    const { at, now, ...more } = moment
    if (at) this.time = clock(at)
    const number = ++this.#commands
    const envelope = {
      commandId: `c${number}`,
      deviceSequence: number,
      occurredAt: this.time + (more.offsetMs ?? 0),
      steadyMs: null,
      offsetMs: 0,
      bandMs: 0,
      seenVersion: this.day.version,
      contactAgeMs: 0,
      decidedOnDevice: false,
      ...more,
    } as unknown as Envelope
    const command = { act, dayId: this.day.dayId, by, envelope, body } as unknown as Command
    const decision = decide(command, this.day, {
      recordedAt: this.time,
      siteVersionRead: this.day.siteVersion,
      siteHead: this.day.siteVersion,
      ...now,
    })
    const { version } = this.#append(decision.events, {
      commandId: envelope.commandId,
      personId: by.personId,
      deviceId: by.deviceId,
      deviceSequence: envelope.deviceSequence,
      occurredAt: envelope.occurredAt,
      steadyMs: envelope.steadyMs,
      ...(envelope.steadyOf && { steadyOf: envelope.steadyOf }),
      offsetMs: envelope.offsetMs,
      bandMs: envelope.bandMs,
    })
    return { ...decision, command, version }
  }

  enter(events: readonly DayEvent[], meta: Partial<DayEntry['meta']> = {}): DayEntry {
    return this.#append(events, {
      commandId: `e${++this.#commands}`,
      personId: 'rashid',
      deviceId: 'safety-1',
      deviceSequence: this.#commands,
      occurredAt: this.time,
      steadyMs: null,
      offsetMs: 0,
      bandMs: 0,
      ...meta,
    })
  }

  reading(degrees: number, more: Parameters<Drive['reading']>[1] = {}): DayEntry {
    // `late`: so many ms passed between reading it and typing it in.
    const { readAt, late = 0, ...over } = more
    if (readAt) this.time = clock(readAt)
    const siteVersion = this.day.siteVersion + 1
    const reading = readingReceived(degrees, { siteVersion, readAt: this.time - late, ...over })
    return this.enter([reading, ...holdCalledFor(this.day, reading)])
  }

  #append(events: readonly DayEvent[], meta: DayEntry['meta']): DayEntry {
    // Behind the seal an entry stands in the other stream, and the first one there carries the seal.
    const after = this.day.sealed !== null
    const seal: DayEvent[] =
      after && this.day.afterVersion === 0 ? [{ type: 'afterOpened', sealedVersion: this.day.version, sealedHash: '0'.repeat(64) }] : []
    const entry: DayEntry = {
      stream: `${after ? 'after' : 'day'}/${this.day.dayId}`,
      version: (after ? this.day.afterVersion : this.day.version) + 1,
      recordedAt: this.time,
      meta,
      events: [...seal, ...events],
    }
    this.entries.push(entry)
    this.day = evolve(this.day, entry)
    this.time += 1000
    return entry
  }
}

export const readingReceived = (degrees: number, over: Partial<DayEventOf<'readingReceived'>> = {}): DayEventOf<'readingReceived'> => ({
  type: 'readingReceived',
  readingId: `reading-${over.siteVersion ?? 1}` as never,
  zoneId: 'track' as never,
  instrumentId: 'meter-1',
  readBy: 'rashid' as never,
  wbgtTenths: Math.round(degrees * 10),
  unit: 'degC',
  band: isFrom(Math.round(degrees * 10), demoPolicy.raise) ? '28.0 and above' : 'below 28.0',
  settled: true,
  usable: true,
  method: 'components',
  wetBulbKind: 'natural',
  siteVersion: 1,
  readAt: clock('10:00'),
  bandMs: 0,
  ...over,
})

/** As whoever follows the site puts it into force: one heat hold over a place, not two. */
export function holdCalledFor(day: Day, reading: DayEventOf<'readingReceived'>): DayEvent[] {
  const crosses = reading.wbgtTenths !== null && isFrom(reading.wbgtTenths, demoPolicy.raise)
  const stands = [...day.holds.values()].some((hold) => !hold.lifted && hold.kind === 'heat' && hold.zoneId === null)
  if (!crosses || stands) return []
  const times = { occurredAt: reading.readAt, offsetMs: 0, bandMs: reading.bandMs }
  const holdId = `hold-of-${reading.readingId}` as never
  return [raisesHold(day, { holdId, kind: 'heat', zoneId: null, raisedBy: 'policy', readingId: reading.readingId, times })]
}

/** One thing that happens in a test: it may answer. */
export type Step = (drive: Drive) => Told | void

/** A command of any act; a body's ids may be plain words here. */
export const tells =
  (act: ActName, by: By, body: object, moment: Moment = {}): Step =>
  (drive) =>
    drive.tell(act, by, body as never, moment)

/** The clock says so from here. */
export const at =
  (time: string): Step =>
  (drive) => {
    drive.time = clock(time)
  }

export const opened = (students: readonly Expected[], rules: DayRules = demoRules(), facts: DayFacts = demoFacts()): Step =>
  tells('openDay', ines, { facts, rules, expected: students }, { at: '08:00' })

export const all =
  (...steps: Step[]): Step =>
  (drive) =>
    steps.forEach((step) => step(drive))

export const reads =
  (degrees: number, more?: Parameters<Drive['reading']>[1]): Step =>
  (drive) => {
    drive.reading(degrees, more)
  }

export const checksIn = (bib: string): Step =>
  all(
    tells('checkIn', kiosk, { studentId: studentId(bib), secondIdentifier: 'birthDate' }),
    tells('bindBib', kiosk, { studentId: studentId(bib), bib }),
  )

export const cleared = (bib: string, over: object = {}, by = petra, moment: Moment = {}): Step =>
  tells(
    'recordClearance',
    by,
    { clearanceId: `clearance-${by.personId}-${bib}`, studentId: studentId(bib), status: 'cleared', limits: [], supersedes: null, ...over },
    moment,
  )

export const warmedUp = (...bibs: string[]): Step => tells('confirmWarmUp', bo, { studentIds: bibs.map(studentId) })

export const weighed = (bib: string, hundredthsKg = 7500, over: object = {}, moment: Moment = {}): Step =>
  tells('weigh', petra, { studentId: studentId(bib), mass: mass(hundredthsKg), scaleId: 'scale-1', keptUnusual: false, ...over }, moment)

/** Checked in, cleared, warmed up and weighed. */
export const ready = (...bibs: string[]): Step => all(...bibs.map((bib) => all(checksIn(bib), cleared(bib), warmedUp(bib), weighed(bib))))

export const starts = (bib: string, stationId: string, attemptId: string, over: object = {}, moment: Moment = {}, by = mira): Step =>
  tells(
    'startAttempt',
    by,
    {
      attemptId,
      studentId: studentId(bib),
      stationId,
      official: true,
      load: null,
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
      ...over,
    },
    moment,
  )

export const records = (
  bib: string,
  stationId: string,
  attemptId: string,
  value: Measured | null,
  over: object = {},
  moment: Moment = {},
  by = mira,
): Step =>
  tells(
    'recordResult',
    by,
    {
      observationId: `o-${attemptId}-${by.personId}`,
      attemptId,
      studentId: studentId(bib),
      stationId,
      outcome: 'good',
      value,
      folds: [],
      fault: null,
      equipmentIds: [],
      keptUnusual: false,
      official: true,
      photoDigest: null,
      fromPaper: null,
      ...over,
    },
    moment,
  )

/** One whole try, the rest before it not asked. */
export const tries = (bib: string, stationId: string, attemptId: string, value: Measured | null, over: object = {}): Step =>
  all(
    starts(bib, stationId, attemptId, { earlyBecause: words, ...(stationId === 'benchPress' && { load: value }) }),
    records(bib, stationId, attemptId, value, over),
  )

/** A gun; each runner's attempt is named after bib and wave. */
export const gun = (waveId: string, bibs: readonly string[], moment: Moment = {}, over: object = {}, by = wren): Step =>
  tells(
    'startWave',
    by,
    {
      waveId,
      stationId: 'run',
      runners: bibs.map((bib) => ({ studentId: studentId(bib), attemptId: `${waveId}-${bib}` })),
      official: true,
      ...over,
    },
    moment,
  )

/** The line is passed so long after the gun, '2:01.4'. */
export const crosses =
  (waveId: string, bib: string, elapsed: string, line: 'lap' | 'finish' = 'lap', by = wren): Step =>
  (drive) => {
    const wave = drive.day.waves.get(waveId as never)
    const [minutes = 0, rest = 0] = elapsed.split(':').map(Number)
    drive.time = (wave ? wave.gun.occurredAt - wave.gun.offsetMs : drive.time) + minutes * 60_000 + Math.round(rest * 1000)
    const observationId = `tap-${waveId}-${bib}-${elapsed}-${by.deviceId}` as never
    return drive.tell('recordCrossing', by, { observationId, waveId: waveId as never, studentId: studentId(bib), line })
  }

export const holds = (holdId: string, over: object = {}, moment: Moment = {}, by = rashid): Step =>
  tells('raiseHold', by, { holdId, kind: 'heat', zoneId: 'track', ...over }, moment)

export const disposes = (holdId: string, disposition = 'stopAndWalkIn', moment: Moment = {}): Step =>
  tells('disposeHold', rashid, { holdId, disposition }, moment)

export const stops = (bib: string, moment: Moment = {}, by = bo, over: object = {}): Step =>
  tells('stopStudent', by, { studentId: studentId(bib), zoneId: 'track', reason: 'unwell', ...over }, moment)

export const coolsDown = (bib: string): Step => tells('confirmCoolDown', wren, { studentId: studentId(bib), lookOver: 'nothingSeen' })
