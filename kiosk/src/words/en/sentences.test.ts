import { DayEvent } from '@musterbook/vocabulary/events'
import { expect, test } from 'vitest'
import { neverSay } from '../never-say.ts'
import { sentencesEn, type Named } from './sentences.ts'

const named: Named = {
  student: (studentId) => `#${studentId}`,
  person: (personId) => personId ?? 'nobody signed on',
  device: (deviceId) => deviceId,
  station: (stationId) => stationId ?? '',
  zone: (zoneId) => zoneId ?? 'everywhere outdoors',
  hold: () => 'the heat hold over Track',
  attempt: () => 'try 1 at Agility',
  review: () => 'two readings differ',
  because: (reason) => reason,
  value: ({ amount }) => String(amount),
  clock: () => '10:25:00',
  duration: () => '2:01.0',
  refusal: (rule) => `${rule}.`,
}

test('there is a sentence for every kind of event, and for nothing else', () => {
  const kinds = DayEvent.options.map(({ shape }) => shape.type.value)
  expect(Object.keys(sentencesEn).sort()).toEqual([...kinds].sort())
})

test('a stop and an interruption are said without a diagnosis and without blame', () => {
  const said = [
    sentencesEn.studentStopped(
      { type: 'studentStopped', studentId: '115', zoneId: 'track', reason: 'unwell', attemptId: null } as never,
      named,
    ),
    sentencesEn.attemptInterrupted(
      { type: 'attemptInterrupted', attemptId: 'a', studentId: '112', stationId: 'run', by: 'hold', holdId: 'h' } as never,
      named,
    ),
    sentencesEn.actRefused(
      { type: 'actRefused', act: 'startWave', rule: 'holdInForce', params: {}, studentId: null, stationId: 'run' } as never,
      named,
    ),
  ]
  expect(said).toEqual([
    'Medical stop recorded for #115 in track.',
    '#112: try 1 at Agility interrupted by the heat hold over Track; no try used.',
    'Refused at run: holdInForce.',
  ])
  expect(said.filter((sentence) => neverSay.en.some((claim) => claim.test(sentence)))).toEqual([])
})
