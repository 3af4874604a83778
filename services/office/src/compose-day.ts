import { digest } from '@musterbook/evidence/canonical'
import { ageOn, type LeapBirthday } from '@musterbook/scoring/age'
import type { NormTable } from '@musterbook/scoring/norms'
import type { RunDetails } from '@musterbook/stations/protocol'
import { trackCheck } from '@musterbook/stations/track-check'
import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import type { DayId, EntitlementId } from '@musterbook/vocabulary/ids'
import type { ComposeDay, Office, Site, Student } from '@musterbook/vocabulary/office'
import type { Equipment, PlacedStation, PlacedZone } from '@musterbook/vocabulary/office-events'
import { OpenDay } from '@musterbook/vocabulary/opening'
import { type DayRules, PinnedHeatPolicy, PinnedProtocol, type PinnedStation } from '@musterbook/vocabulary/rules'
import type { z } from 'zod'
import { localDate, utcOffsetMinutes } from './civil-date.ts'
import { type DayPolicy, readDayPolicy, SiteDecides } from './day-policy.ts'
import type { GrantedRetest, Opening } from './retests.ts'
import type { InForce } from './rules.ts'
import { ages } from './students.ts'

interface Needs {
  site(): Promise<Site | null>
  venue: Office['venue']
  equipment: Office['equipment']
  classes: Office['classes']
  studentsOfClass: Office['studentsOfClass']
  student: Office['student']
  granted(dayId: DayId, entitlementId: EntitlementId): Promise<GrantedRetest | undefined>
  openingOf(dayId: DayId): Promise<Opening | undefined>
  rules(): Promise<{ version: number; inForce: (kind: InForce['kind']) => InForce[] }>
  emergencyCard(): Promise<PinnedEmergencyCard | null>
}

/** A test day from what two people put in force: everything it needs, or a list of all that is missing. */
export function composer(needs: Needs): Office['composeDay'] {
  return async (body) => {
    const site = await needs.site()
    if (!site) return { missing: ['This server has no site yet: set it up first.'] }
    const missing: string[] = []
    const { version, inForce } = await needs.rules()
    const { zones, stations } = await needs.venue()

    const policy = dayPolicyOf(inForce('dayPolicy'), missing)
    const pinned = pinnedStations(body, { stations, zones, equipment: await needs.equipment(), protocols: inForce('protocol') }, missing)
    const heatPolicy = heatPolicyOf(inForce('heatPolicy'), body.heatPolicyId, missing)
    const norms = normsOf(inForce('norms'), site.timeZone, missing)
    const standard = standardOf(inForce('standard'), missing)
    const scored = await scoredByRetests(needs, body, { stations: pinned, norms, standard }, missing)
    const emergencyCard = await needs.emergencyCard()
    const expected = await expectedOf(needs, body, policy?.leapBirthday ?? 'march1', missing)
    if (missing.length > 0 || !policy) return { missing }

    const decided = SiteDecides.parse(policy)
    const used = new Set(pinned.map(({ zoneId }) => zoneId))
    const openDay: z.infer<typeof OpenDay> = {
      facts: {
        dayId: body.dayId ?? (`${site.siteId}-${body.date}` as DayId),
        siteId: site.siteId,
        date: body.date,
        timeZone: site.timeZone,
        utcOffsetMinutes: utcOffsetMinutes(body.date, site.timeZone),
        title: body.title,
        rehearsal: body.rehearsal,
      },
      rules: {
        ruleSet: 'muster-1',
        rulesVersion: version,
        stations: scored.stations,
        zones: zones
          .map(({ zoneId, name, outdoor }) => ({ zoneId, name, outdoor }))
          .filter((zone) => zone.outdoor || used.has(zone.zoneId)),
        heatPolicy,
        norms: scored.norms,
        standard: scored.standard,
        ...decided,
        // Two rules say how long a device may be out of contact; the stricter one governs.
        contactAgeMs: Math.min(decided.contactAgeMs, contactOf(heatPolicy) ?? decided.contactAgeMs),
        ...(emergencyCard && { emergencyCard }),
      },
      expected,
    }
    return { openDay: OpenDay.parse(openDay) }
  }
}

function dayPolicyOf(inForce: readonly InForce[], missing: string[]): DayPolicy | undefined {
  const [policy, another] = inForce
  if (!policy) missing.push('No rules of the day are in force: two people adopt them first.')
  if (another) missing.push(`Two sets of rules of the day are in force, ${policy?.id} and ${another.id}: end one.`)
  if (!policy) return undefined
  const read = readDayPolicy(policy.content)
  if ('policy' in read) return read.policy
  missing.push(...read.wrong)
  return undefined
}

interface Place {
  stations: readonly PlacedStation[]
  zones: readonly PlacedZone[]
  equipment: readonly Equipment[]
  protocols: readonly InForce[]
}

function pinnedStations(body: ComposeDay, place: Place, missing: string[]): PinnedStation[] {
  const wanted = body.stationIds ?? place.stations.map(({ stationId }) => stationId)
  if (wanted.length === 0) missing.push('The venue has no stations yet.')
  return wanted.flatMap((stationId) => {
    const station = place.stations.find((each) => each.stationId === stationId)
    if (!station) missing.push(`There is no station ${stationId} in the venue.`)
    const pinned = station && pinStation(station, place, body.date, missing)
    return pinned ? [pinned] : []
  })
}

function pinStation(
  station: PlacedStation,
  { zones, equipment, protocols }: Place,
  date: string,
  missing: string[],
): PinnedStation | undefined {
  const say = (sentence: string): undefined => void missing.push(`${station.name}: ${sentence}`)
  const zone = zones.find(({ zoneId }) => zoneId === station.zoneId)
  if (!zone) return say('its zone is not in the venue.')
  if (station.protocolId === null) return say('no protocol is chosen.')
  const adopted = protocols.find(({ id }) => id === station.protocolId)
  if (!adopted) return say(`protocol ${station.protocolId} is not in force: two people adopt it first.`)
  const protocol = PinnedProtocol.parse(adopted.content)
  if (protocol.kind !== station.kind) return say(`protocol ${station.protocolId} is for a ${protocol.kind} station, not ${station.kind}.`)
  const onTrack = protocol.kind === 'run' ? onThisTrack(protocol, zone, say) : protocol
  if (!onTrack) return undefined

  const there = equipment.filter(({ stationId }) => stationId === station.stationId)
  for (const { name, dueOn } of there) if (dueOn !== null && dueOn < date) say(`the calibration of ${name} ended ${dueOn}.`)
  // Where the station stands decides whether it is out of doors, whatever its protocol was written for.
  return {
    stationId: station.stationId,
    zoneId: station.zoneId,
    protocol: { ...onTrack, outdoor: zone.outdoor || onTrack.outdoor },
    equipmentIds: there.map(({ equipmentId }) => equipmentId),
  }
}

/** Laps are run on the venue's own track: its measured way is held against the protocol's distance. */
function onThisTrack(protocol: PinnedProtocol, zone: PlacedZone, say: (sentence: string) => undefined): PinnedProtocol | undefined {
  if (!zone.track) return say(`the track of ${zone.name} is not measured.`)
  const details = protocol['details'] as RunDetails
  const track = { ...zone.track, laps: details.track.laps }
  const check = trackCheck(track, details.distanceMm, details.toleranceMm)
  if (check.isRight) return { ...protocol, details: { ...details, track } }
  const short = metres(Math.abs(check.differenceMm))
  const which = check.differenceMm < 0 ? 'short' : 'long'
  return say(
    `${track.laps} laps of this track are ${short} m too ${which}; the start offset should be ${metres(check.neededStartOffsetMm)} m.`,
  )
}

const metres = (millimetres: number): string => (millimetres / 1000).toFixed(3)

function heatPolicyOf(inForce: readonly InForce[], wanted: string | undefined, missing: string[]): DayRules['heatPolicy'] {
  const chosen = wanted === undefined ? inForce : inForce.filter(({ id }) => id === wanted)
  const [policy, another] = chosen
  if (!policy)
    missing.push(
      wanted === undefined ? 'No heat policy is in force: two people adopt one first.' : `Heat policy ${wanted} is not in force.`,
    )
  if (another) missing.push(`Several heat policies are in force (${chosen.map(({ id }) => id).join(', ')}): choose one for this day.`)
  return policy ? PinnedHeatPolicy.parse(policy.content) : null
}

function contactOf(policy: DayRules['heatPolicy']): number | undefined {
  const minutes = policy?.['contactAgeMinutes']
  return typeof minutes === 'number' ? minutes * 60_000 : undefined
}

function normsOf(inForce: readonly InForce[], timeZone: string, missing: string[]) {
  const tables = inForce.flatMap(({ content, proposedBy, adoptedBy, adoptedAt }) =>
    (content['tables'] as NormTable[]).map((table) => ({
      ...table,
      adoption: { adopters: [proposedBy, adoptedBy] as const, adoptedOn: localDate(adoptedAt, timeZone), checksum: digest(table) },
    })),
  )
  for (const { test, id } of tables) {
    const first = tables.find((other) => other.test === test)
    if (first && first.id !== id) missing.push(`Two norm tables for ${test} are in force, ${first.id} and ${id}: end one.`)
  }
  return tables
}

/** A site may have no minimum of its own: then there is none, and nothing is missing. */
function standardOf([standard, another]: readonly InForce[], missing: string[]): DayRules['standard'] {
  if (another) missing.push(`Two minimum standards are in force, ${standard?.id} and ${another.id}: end one.`)
  return standard ? { ...standard.content, id: standard.id } : null
}

async function expectedOf(needs: Needs, body: ComposeDay, leapBirthday: LeapBirthday, missing: string[]) {
  const classes = await needs.classes()
  const everyone: Student[] = []
  for (const classId of new Set(body.classIds)) {
    if (!classes.some((each) => each.classId === classId)) missing.push(`There is no class ${classId}.`)
    const students = await needs.studentsOfClass(classId)
    if (students.length === 0) missing.push(`Class ${classId} has no students.`)
    everyone.push(...students)
  }
  if (body.classIds.length === 0 && body.retests.length === 0) missing.push('Nobody is expected: choose a class, or a retest.')
  const retests = await retestsOf(needs, body, everyone, missing)
  const all = [...everyone.map((student) => ({ student, retest: null })), ...retests]
  if (all.length > 400) missing.push(`${all.length} students are more than the 400 of one day.`)
  return all.flatMap(({ student: { studentId, code, classId, normSex, birthDate, language }, retest }) => {
    const ageYears = birthDate <= body.date ? ageOn(birthDate, body.date, leapBirthday) : -1
    if (ageYears < ages.from || ageYears > ages.to) {
      missing.push(`The student with code ${code} would be ${ageYears} years old on ${body.date}: correct the birth date.`)
      return []
    }
    return [{ studentId, classId, normGroup: { sex: normSex, ageYears }, language, retest }]
  })
}

type Scoring = Pick<DayRules, 'stations' | 'norms' | 'standard'>

/**
 * A retest is scored by the protocols and norms of the day that granted it. A day has one set of rules: a day of retests takes over
 * the earlier day's, and where others are expected too the rules must have stayed the same.
 */
async function scoredByRetests(needs: Needs, { retests, classIds }: ComposeDay, now: Scoring, missing: string[]): Promise<Scoring> {
  const earlier = new Map<string, Scoring>()
  for (const dayId of new Set(retests.map((each) => each.dayId))) {
    const opening = await needs.openingOf(dayId)
    if (opening) earlier.set(dayId, asThen(now, opening.rules))
  }
  const [[firstDay, first] = [], ...others] = earlier
  if (!first) return now
  const other = others.find(([, scoring]) => saysOther(scoring, first))
  if (other) missing.push(`The rules of ${firstDay} and ${other[0]} differ: open a day of retests for each.`)
  else if (classIds.length > 0 && saysOther(now, first))
    missing.push(`The rules have changed since ${firstDay}, by which its retests are scored: open a day of retests alone.`)
  return first
}

/** The stations where and with what they stand now, measured and scored as on that day. */
const asThen = ({ stations }: Scoring, then: Scoring): Scoring => ({
  stations: stations.map((station) => ({
    ...station,
    protocol: then.stations.find(({ stationId }) => stationId === station.stationId)?.protocol ?? station.protocol,
  })),
  norms: then.norms,
  standard: then.standard,
})

const saysOther = (one: Scoring, other: Scoring): boolean => digest(one) !== digest(other)

/** Who comes on an entitlement that an earlier day granted, to the stations it names alone. */
async function retestsOf(needs: Needs, { retests, date, rehearsal }: ComposeDay, inClasses: readonly Student[], missing: string[]) {
  const found = []
  for (const { dayId, entitlementId } of retests) {
    const granted = await needs.granted(dayId, entitlementId)
    const student = granted && (await needs.student(granted.studentId))
    const grantedIn = (await needs.openingOf(dayId))?.facts.rehearsal ?? rehearsal
    if (!granted || !student) missing.push(`Day ${dayId} granted no retest ${entitlementId}.`)
    else if (grantedIn !== rehearsal) missing.push(mixed(student.code, rehearsal))
    else if (granted.until < date) missing.push(`The retest of the student with code ${student.code} ended ${granted.until}.`)
    else if ([...inClasses, ...found.map((each) => each.student)].some(({ studentId }) => studentId === student.studentId))
      missing.push(`The student with code ${student.code} is expected twice: with a class, or on one retest.`)
    else found.push({ student, retest: { entitlementId, dayId, stationIds: granted.stationIds, until: granted.until } })
  }
  return found
}

const mixed = (code: string, rehearsal: boolean): string =>
  rehearsal
    ? `The retest of the student with code ${code} counts: a rehearsal does not take it up.`
    : `The retest of the student with code ${code} was granted at a rehearsal: a rehearsal alone takes it up.`
