import { readingAge } from '@musterbook/heat/hold-policy'
import type { ReadingStrip } from '@musterbook/day/views/parts'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import type { Gate } from '../parts/gate-panel/gate-panel.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'

interface Asked {
  view: StationView
  safety: SafetyView
  now: number
  zone: string
  contactAgeMs: number | undefined
  contactLimitMs: number
  /** What came over the radio for this wave, where its period is not over. */
  radio: string | undefined
  nameOf: (personId: string) => string
}

/** What stands before the gun for everybody: the hold over the zone, the age of the reading, contact, equipment. */
export function startGates(asked: Asked): Gate[] {
  const { view } = asked
  return [
    holdGate(asked),
    ...(asked.safety.policy ? [readingGate(asked)] : []),
    contactGate(asked),
    {
      id: 'equipment',
      name: words.run.gate.equipment,
      state: view.blockedEquipment.length > 0 ? 'notMet' : 'met',
      detail: view.blockedEquipment.length > 0 ? words.run.blocked(view.blockedEquipment.join(', ')) : undefined,
      resolver: words.run.stationStaff,
    },
  ]
}

/** The reading on which a start would rest now, by the core's own rule; nothing where none counts. */
export function freshReading({ safety, now }: Pick<Asked, 'safety' | 'now'>): ReadingStrip | undefined {
  if (!safety.policy) return undefined
  const age = readingAge(outdoorReadings(safety), safety.policy, now)
  return age.state === 'fresh' ? age.reading : undefined
}

const outdoorReadings = ({ readings, zones }: SafetyView) =>
  readings.filter((reading) => zones.find((zone) => zone.zoneId === reading.zoneId)?.outdoor)

function holdGate({ view: { hold }, zone, nameOf }: Asked): Gate {
  const by = hold?.personId ? nameOf(hold.personId) : words.shell.byPolicy
  return {
    id: 'hold',
    name: words.run.gate.hold,
    state: hold ? 'notMet' : 'met',
    detail: hold ? words.run.holdSince(overZone(hold), wallClock(hold.since, zone), by) : undefined,
    resolver: words.radio.safetyOfficer,
  }
}

function readingGate({ safety, now, zone }: Asked): Gate {
  const gate = { id: 'reading', name: words.run.gate.reading, resolver: words.radio.safetyOfficer }
  const policy = safety.policy!
  const age = readingAge(outdoorReadings(safety), policy, now)
  if (age.state === 'notNeeded') return { ...gate, state: 'met', detail: words.run.readingNotAsked }
  if (!('reading' in age)) return { ...gate, state: 'unknown', detail: words.run.readingNone }
  const old = shortDuration(age.ageMs)
  if (age.state === 'overdue') return { ...gate, state: 'notMet', detail: words.run.readingOver(old) }
  const { wbgtTenths, unit, validUntil } = age.reading
  const value = words.safety.degrees(wbgtTenths ?? 0, unit)
  return { ...gate, state: 'met', detail: words.run.readingLine(value, old, wallClock(validUntil, zone)) }
}

function contactGate({ contactAgeMs, contactLimitMs, radio }: Asked): Gate {
  const gate = { id: 'contact', name: words.radio.contact, resolver: words.radio.safetyOfficer }
  if (radio && (contactAgeMs ?? Infinity) > contactLimitMs) return { ...gate, state: 'met', detail: radio }
  if (contactAgeMs === undefined) return { ...gate, state: 'unknown', detail: words.run.contactNever }
  if (contactAgeMs > contactLimitMs) return { ...gate, state: 'unknown', detail: words.radio.contactOld }
  return { ...gate, state: 'met', detail: words.run.contactLine(shortDuration(contactAgeMs)) }
}
