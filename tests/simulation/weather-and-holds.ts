import { withoutOutcome, type Turn } from './staff.ts'
import { words } from '@musterbook/day/controls'

const minute = 60_000

/** The safety officer walks, reads, and looks after the holds. */
export function safetyTurn(turn: Turn): void {
  const { device, luck, no, day, isImpatient, now } = turn
  reads(turn)
  for (const hold of withoutOutcome(day)) {
    if (!luck.is(0.5)) continue
    const disposition = luck.is(0.75) ? 'stopAndWalkIn' : luck.one('finishThisLap', 'finishTheRun')
    device.press(`${no}-outcome-${hold.holdId}`, 'disposeHold', { holdId: hold.holdId, disposition })
  }
  if (turn.world.plan.weather === 'storm' && luck.is(0.01)) {
    device.press(
      `${no}-thunder`,
      'observeHazard',
      { kind: luck.one('thunder', 'flash'), zoneId: null, value: null },
      { agoMs: luck.between(0, 60_000) },
    )
  }
  for (const hold of day.holds.values()) {
    if (hold.lifted) continue
    if ((hold.kind === 'air' || hold.kind === 'cold') && luck.is(0.1)) {
      device.press(`${no}-air-${hold.holdId}`, 'observeHazard', {
        kind: hold.kind === 'air' ? 'airIndex' : 'windChill',
        zoneId: null,
        value: hold.kind === 'air' ? luck.one(20, 90, 151, 180) : luck.one(-60, -150, -278, -310),
      })
    }
    const isRipe = now - hold.raised.recordedAt > (hold.kind === 'other' ? 2 : 16) * minute
    if ((isRipe && luck.is(0.25)) || (isImpatient && luck.is(0.3))) proposes(turn, hold.holdId)
    if (hold.proposal && luck.is(0.03)) device.press(`${no}-confirms-${hold.holdId}`, 'confirmLift', { holdId: hold.holdId })
  }
}

function proposes({ device, luck, no, day }: Turn, holdId: string): void {
  const zoneId = day.holds.get(holdId as never)?.zoneId
  const there = day.readings.filter((one) => (zoneId === 'gym' ? one.zoneId === 'gym' : one.zoneId === 'track'))
  const reading = luck.is(0.9) ? there.at(-1) : luck.among(day.readings.toArray())
  device.press(`${no}-lift-${holdId}`, 'proposeLift', {
    holdId,
    readingId: reading?.readingId ?? null,
    reason: luck.is(0.9) ? words : null,
  })
}

/** Mild days stay under the policy's value; on hot ones the middle of the day goes over it, and comes down again under cloud. */
function degreesTenths({ world, luck, now }: Turn): number {
  const { opensAt, closesAt, weather } = world.plan
  const share = (now - opensAt) / (closesAt - opensAt)
  const swing = weather === 'hot' ? 75 : 35
  const warmest = 1 - Math.min(1, Math.abs(share - 0.45) / 0.22)
  return Math.round(215 + swing * warmest + luck.between(-8, 8))
}

function reads(turn: Turn): void {
  const { world, device, luck, no, now } = turn
  const last = device.memory['readAt'] ?? 0
  const every = luck.is(0.03) ? 0 : 7 * minute
  if (now - last < every || (now - last < 34 * minute && luck.is(0.25))) return
  device.memory['readAt'] = now
  const settled = luck.is(0.9)
  const agoMs = luck.is(0.85) ? luck.between(0, 20_000) : luck.between(0, 10 * minute)
  const wbgt = { amount: degreesTenths(turn), unit: 'tenthsDegC', resolution: 1, method: luck.is(0.95) ? 'instrument' : 'estimate' }
  const zoneId = luck.is(0.93) ? 'track' : 'gym'
  world.takeReading(
    device,
    `${no}-reading`,
    {
      readingId: `reading-${no}`,
      siteId: 'skarnvale',
      zoneId,
      instrumentId: luck.is(0.9) ? 'meter-1' : 'meter-2',
      naturalWetBulb: null,
      globe: null,
      dryBulb: null,
      wbgt,
      sun: true,
      wetBulbKind: 'natural',
      globeDiameterMm: 150,
      settled,
      confirmed: luck.is(0.8) ? ['jumpedSinceLastReading', 'looksLikeTheOtherUnit'] : [],
    } as never,
    device.by,
    agoMs,
  )
}
