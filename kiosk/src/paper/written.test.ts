import { expect, test } from 'vitest'
import { lapsWritten, writtenAt } from './written.ts'

test('a written time of day is an instant at the site, no surer than it was written', () => {
  expect(writtenAt('10:15:07', '2027-05-11', 120)).toEqual({ at: Date.UTC(2027, 4, 11, 8, 15, 7), bandMs: 1_000 })
  expect(writtenAt('9.05', '2027-05-11', 120)).toEqual({ at: Date.UTC(2027, 4, 11, 7, 5, 30), bandMs: 30_000 })
  for (const none of ['', '25:00', '10:61', 'about ten', '10:15:99']) expect(writtenAt(none, '2027-05-11', 120)).toBeNull()
})

test('a row of laps is times since the gun that grow; anything else is asked again', () => {
  expect(lapsWritten(' 1:58 3:59.5  12:09 ')).toEqual([118_000, 239_500, 729_000])
  for (const none of ['', '3:59 1:58', '1:58 359', '1:75', '2:00 2:00']) expect(lapsWritten(none)).toBeNull()
})
