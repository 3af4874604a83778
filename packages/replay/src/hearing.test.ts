import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { hearingCopy } from './hearing.ts'

/** Three students, a wave, a stop and a hold. Invented. */
function day() {
  const drive = c.drive()
  c.opened([c.expected('101'), c.expected('102'), c.expected('113')])(drive)
  c.all(
    c.ready('101', '102', '113'),
    c.tries('102', 'agility', 'a-102', c.seconds(1810)),
    c.tries('113', 'agility', 'a-113', c.seconds(1720)),
  )(drive)
  c.stops('113')(drive)
  c.holds('hold')(drive)
  return drive
}

test('a hearing copy holds one student; others are letters in the order of their bibs', () => {
  const { entries } = day()
  const copy = hearingCopy(c.dayId, entries, { entries: entries.length, hash: 'f'.repeat(64) }, c.studentId('113'))!
  const text = JSON.stringify(copy)
  expect(copy.others).toBe(2)
  expect(copy.record.studentId).toBe('s113')
  for (const other of ['s101', 's102', 'a-102']) expect(text).not.toContain(other)
  expect(copy.entries.some(({ events }) => events.some((event) => event.type === 'warmUpConfirmed'))).toBe(true)
  expect(copy.record.stations.find(({ stationId }) => stationId === 'agility')?.result.says).toBe('17.2 s')
})

test('nothing of the medical desk is in it: no clearance, no stop, no refusal for want of one', () => {
  const { entries } = day()
  const copy = hearingCopy(c.dayId, entries, { entries: entries.length, hash: 'f'.repeat(64) }, c.studentId('113'))!
  expect(JSON.stringify(entries)).toMatch(/clearanceRecorded.*studentStopped/s)
  expect(JSON.stringify({ ...copy, rules: null })).not.toMatch(/clearance|studentStopped|medicalStop|restored/i)
  expect(copy.record.stopped).toBe(false)
})

test('nobody of that name, no copy', () => {
  expect(hearingCopy(c.dayId, day().entries, { entries: 0, hash: '' }, c.studentId('999'))).toBeNull()
})
